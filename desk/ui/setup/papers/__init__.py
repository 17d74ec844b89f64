"""The Papers page of Setup: what is loaded in each printer, and where each paper is printed."""
