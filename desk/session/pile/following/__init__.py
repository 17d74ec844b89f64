"""The judged pieces, kept up to date."""
