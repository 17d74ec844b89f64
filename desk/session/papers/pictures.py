"""Pictures of pages for the window, which may not import the PDF library."""

from __future__ import annotations

from desk.paper.picture import PagePictures, Picture

__all__ = ["PagePictures", "Picture", "open_pages"]


def open_pages(pdf: bytes) -> PagePictures:
    """Return the pages of a PDF, drawn one at a time; ValueError when it is not a PDF."""
    return PagePictures(pdf)
