"""Answers to single questions (`tare-and-tag ask`)."""
