"""Money over time: the ledger, what was really paid, what to charge, and the year for the accountant."""
