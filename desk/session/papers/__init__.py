"""Making, printing and saving papers and tables; stamps on; hand-over."""
