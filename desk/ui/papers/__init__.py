"""Papers: look at them, save them, print them."""
