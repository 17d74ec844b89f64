"""What the Customs screen shows and changes."""
