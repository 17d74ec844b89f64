"""Address: the recipient, as typed by the buyer."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Address:
    """An address. `country` is an ISO 3166-1 alpha-2 code, or empty when the typed country is unknown."""

    recipient: str = ""
    company: str = ""
    address1: str = ""
    address2: str = ""
    city: str = ""
    region: str = ""
    postal_code: str = ""
    country: str = ""
    email: str = ""
    phone: str = ""
    country_typed: str = ""  # as written in the file, for the message about an unknown country
