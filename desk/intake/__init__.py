"""Read files: orders, weights, paid postage, and the shop file."""
