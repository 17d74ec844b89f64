"""One file for each revision, oldest first."""
