"""What the post charges, and why."""
