"""One file per protocol."""
