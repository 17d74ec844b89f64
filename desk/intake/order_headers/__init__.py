"""What the headers of an order list mean."""
