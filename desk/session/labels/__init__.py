"""Labels that come with postage bought online: matched to pieces, accepted, and verified by scanning."""
