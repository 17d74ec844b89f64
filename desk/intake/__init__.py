"""Files that people bring: orders, weights, the shop file."""
