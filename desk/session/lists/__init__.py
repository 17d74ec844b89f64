"""Lists saved as CSV: postage to buy, data of a firm sheet, orders shipped, and messages to buyers."""
