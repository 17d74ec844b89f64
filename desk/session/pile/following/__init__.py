"""The judged pieces, kept up to date: part by part, or all at once."""
