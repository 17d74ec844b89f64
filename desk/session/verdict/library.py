"""Who may use the library price: mail from or to a library, school or museum, by the names on it.

DMM 273.4 (from memory): schools, colleges, universities, public libraries, museums, herbaria and some nonprofits. A
nonprofit can't be recognized by its name; you choose the service for the piece.
"""

from __future__ import annotations

import re

from desk.domain.places.address import Address

LIBRARY = "library"  # what a service is reserved for
_WORDS = frozenset("library libraries school schools college university museum herbarium".split())


def names_a_library(*addresses: Address) -> bool:
    """Return True when a name or company among the addresses is that of a library, school or museum."""
    names = " ".join(f"{address.recipient} {address.company}" for address in addresses).casefold()
    return not _WORDS.isdisjoint(re.findall(r"[^\W_]+", names))
