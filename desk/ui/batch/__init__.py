"""The Batch screen: import orders, see every piece with its status, find by number."""
