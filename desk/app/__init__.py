"""Starting, wiring, and the runs without a window."""
