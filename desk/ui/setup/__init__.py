"""The Setup screen: the shop's settings, a page for each kind."""
