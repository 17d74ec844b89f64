"""What an order ought to weigh, by what its products weigh."""
