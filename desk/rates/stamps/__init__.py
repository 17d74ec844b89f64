"""Which stamps to put on a letter, one at a time and over the whole pile."""
