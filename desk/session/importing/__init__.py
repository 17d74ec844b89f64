"""Reading files into the program: preview, columns, compare, import."""
