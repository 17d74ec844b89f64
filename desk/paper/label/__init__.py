"""The 4 x 6 label and the letter label, and the parts they are drawn from."""
