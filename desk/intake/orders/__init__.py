"""Turn rows into orders."""
