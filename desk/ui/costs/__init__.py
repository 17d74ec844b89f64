"""The Costs screen: what each piece cost and what the buyer paid."""
