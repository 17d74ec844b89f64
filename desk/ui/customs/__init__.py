"""The Customs screen: declarations, complete or not."""
