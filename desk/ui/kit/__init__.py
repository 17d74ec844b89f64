"""Widgets that know nothing of the trade."""
