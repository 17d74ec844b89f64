"""Labels, slips, keying sheets and the hand-over sheet as PDF."""
