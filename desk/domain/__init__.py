"""Values and plain records all share. Standard library only."""
