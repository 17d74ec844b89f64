"""The lock around PDFium, which shares state between all documents and is not thread-safe.

A proof runs in the background while the window draws pages; each holds the lock for one page at a time.
"""

from __future__ import annotations

from threading import RLock

PDFIUM = RLock()
