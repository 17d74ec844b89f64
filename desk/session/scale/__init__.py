"""Following, choosing and checking the scale."""
