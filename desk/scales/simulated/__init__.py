"""Simulated scales for the demo and the tests."""
