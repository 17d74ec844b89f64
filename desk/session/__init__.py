"""The acts of one sitting, in rooms that only look down."""
