"""Every sentence, word table, count and figure in words."""
