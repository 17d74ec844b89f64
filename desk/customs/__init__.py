"""Customs: the declaration, and what is missing from it."""
