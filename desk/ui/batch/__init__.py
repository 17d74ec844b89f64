"""The Batch screen: take in order files; see every piece and where it stands; find by number."""
