"""From bytes to a settled weight."""
