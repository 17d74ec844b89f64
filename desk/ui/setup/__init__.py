"""Setup: what the shop has settled once, a page for each kind."""
