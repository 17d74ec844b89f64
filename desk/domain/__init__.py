"""Values and plain records that everything shares. Standard library only."""
