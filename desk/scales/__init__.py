"""Turn bytes from a scale into settled weights."""
