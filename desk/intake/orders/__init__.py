"""From rows to orders."""
