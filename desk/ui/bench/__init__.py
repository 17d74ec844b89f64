"""The Bench screen: the scale, the open piece, what to write on it, what it needs."""
