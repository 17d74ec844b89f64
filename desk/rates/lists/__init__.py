"""Reading, choosing and writing price lists and zone charts."""
