"""What the keys of the bench do, one file for each group of keys. The screen repaints when an act is announced."""
