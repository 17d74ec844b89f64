"""From the bytes of a file to rows of text."""
