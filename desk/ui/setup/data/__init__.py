"""Setup > Data."""
