"""Papers as PDF: labels, slips, customs worksheets, packing slips and the hand-over sheet."""
