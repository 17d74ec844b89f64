"""The decision about one piece: its case, judged, with money, stamps and status."""
