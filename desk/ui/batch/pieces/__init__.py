"""The list of pieces."""
