"""Changing the shop, price lists, zones, copies and forgetting."""
