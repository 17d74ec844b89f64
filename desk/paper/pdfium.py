"""The lock around PDFium: the library keeps state of its own for all documents and knows no threads.

A proof runs beside the window while the window draws pages; each takes the lock for one page at a time.
"""

from __future__ import annotations

from threading import RLock

PDFIUM = RLock()
