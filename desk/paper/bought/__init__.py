"""Labels that come with bought postage: read from PDF and laid out again, in a second process with limits."""
