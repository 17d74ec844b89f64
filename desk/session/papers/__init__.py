"""Making, printing and saving papers and tables; putting stamps on; hand-over."""
