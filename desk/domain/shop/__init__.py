"""What the shop keeps: products, mailers, stamps and its settings."""
