"""What a person does in one sitting, one file per act."""
