"""Pictures of pages for the window, which may not know how a PDF is read."""

from __future__ import annotations

from desk.paper.picture import PagePictures, Picture

__all__ = ["PagePictures", "Picture", "open_pages"]


def open_pages(pdf: bytes) -> PagePictures:
    """Return the pages of a PDF, to be drawn one by one; ValueError when it is no PDF."""
    return PagePictures(pdf)
