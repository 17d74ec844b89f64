"""Form fields, and the framed editors they are made of."""
