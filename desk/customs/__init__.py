"""Customs: what the declaration says, and what is missing."""
