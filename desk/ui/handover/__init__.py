"""The Hand-over screen: what goes where, and how it is paid."""
