"""Labels that come with bought postage: matched to the pile, accepted, and compared with the slip by scanning."""
