"""What each paper and table says, before it is laid out."""
