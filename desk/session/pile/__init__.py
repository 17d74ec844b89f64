"""All the pieces together, and what is known of them before they are weighed."""
