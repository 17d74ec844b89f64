"""Setup > Scale."""
