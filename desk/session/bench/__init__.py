"""What happens at the bench: weighing, splitting, answers, one piece's page."""
