"""What past weighings taught: the weights of products and mailers, and what each reading meant."""
