"""The Papers page of Setup: what is loaded in each printer, and which paper goes where."""
