"""Turn a file's bytes into rows of text."""
