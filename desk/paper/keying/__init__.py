"""The customs worksheet: what it shows, its fields, and how they are drawn."""
