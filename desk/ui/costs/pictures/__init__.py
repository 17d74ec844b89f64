"""Pictures of what was mailed, each with a sentence and a table."""
