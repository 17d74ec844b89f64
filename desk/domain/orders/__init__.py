"""Orders and their pieces: lines, packages, status, customs details, tracking numbers."""
