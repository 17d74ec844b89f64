"""What each column of a table means, and how its cells are read."""
