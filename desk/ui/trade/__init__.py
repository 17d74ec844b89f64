"""Widgets that know the trade: stamps, the ounce ruler, package shapes, cost lines, a piece's page."""
