"""`python -m desk` is the command `tare-and-tag`."""

from desk.app.main import console

raise SystemExit(console())
