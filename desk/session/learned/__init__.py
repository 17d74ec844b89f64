"""What past weighings taught: weights of products and mailers, and how plausible each reading was."""
