"""One file per table of the store: the SQL that reads and writes its rows."""
