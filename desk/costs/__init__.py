"""What a piece cost, what the buyer paid, and who is owed a refund."""
