"""The Bench screen: the scale, what stands on it, what to write on it, what it needs."""
