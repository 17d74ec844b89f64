"""Setup pages about customs: exchange rates, and lists of destinations."""
