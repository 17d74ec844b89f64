"""What the declaration says, and what is missing."""
