"""The Hand-over screen: what goes where, paid how."""
