"""The acts of one sitting, in folders that import only those below them."""
