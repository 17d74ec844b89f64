"""All pieces together, and what is known before they are weighed."""
