"""Changing the shop, price lists, zones, backups, and deleting addresses."""
