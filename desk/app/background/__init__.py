"""Work beside the screens while the desk is open: copies, other benches, learning, a new day, warming up."""
