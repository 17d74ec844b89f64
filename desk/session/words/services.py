"""Services in words, as papers and screens say them. The ids are those of the price charts."""

from __future__ import annotations

WORDS = {
    "letter-stamped": "letter, stamped",
    "letter-metered": "letter, metered",
    "postcard": "postcard",
    "flat": "large envelope",
    "ground-retail": "ground parcel, counter price",
    "ground-commercial": "ground parcel, online price",
    "priority-retail": "priority parcel, counter price",
    "priority-commercial": "priority parcel, online price",
    "media": "media mail",
    "intl-letter": "letter abroad",
    "intl-flat": "large envelope abroad",
    "intl-package": "package abroad, first class",
}
PACKAGING = {
    "envelope": "envelope",
    "legal": "legal envelope",
    "padded": "padded envelope",
    "small-box": "small box",
    "medium-box": "medium box",
    "large-box": "large box",
}


def service_words(service: str) -> str:
    """A service in a few words; flat-rate packaging by its name, anything unknown as its id."""
    if service in WORDS:
        return WORDS[service]
    for start, where in (("priority-flat-", ""), ("intl-priority-flat-", " abroad")):
        if service.startswith(start):
            name = service.removeprefix(start).removesuffix("-retail").removesuffix("-commercial")
            return f"priority flat-rate {PACKAGING.get(name, name)}{where}"
    return service
