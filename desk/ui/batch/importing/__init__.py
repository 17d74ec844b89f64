"""Importing a table of orders, products or mailers."""
