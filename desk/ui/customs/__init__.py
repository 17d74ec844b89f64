"""Customs: declarations, what is filled and what is missing."""
