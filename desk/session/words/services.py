"""Services as papers and screens name them. The ids are those of the price lists."""

from __future__ import annotations

from desk.rates.lists.chart import Charts
from desk.rates.services import services_named

WORDS = {
    "letter-stamped": "letter, stamped",
    "letter-metered": "letter, metered",
    "postcard": "postcard",
    "flat": "large envelope",
    "ground-retail": "ground (retail)",
    "ground-commercial": "ground (online)",
    "priority-retail": "priority (retail)",
    "priority-commercial": "priority (online)",
    "priority-flat-large-box-military-retail": "priority flat-rate large box for military mail (retail)",
    "media": "books and listed media",
    "library": "library books and media",
    "ground-cubic-commercial": "ground by volume (online)",
    "intl-letter": "letter abroad",
    "intl-flat": "large envelope abroad",
    "intl-package": "first-class package abroad",
    "intl-priority": "priority package abroad",
}
_PACKAGING = {
    "envelope": "envelope",
    "legal": "legal envelope",
    "padded": "padded envelope",
    "small-box": "small box",
    "medium-box": "medium box",
    "large-box": "large box",
}
for _name, _words in _PACKAGING.items():
    WORDS[f"priority-flat-{_name}-retail"] = f"priority flat-rate {_words} (retail)"
    WORDS[f"priority-flat-{_name}-commercial"] = f"priority flat-rate {_words} (online)"
    if _name not in ("legal", "padded"):
        WORDS[f"intl-priority-flat-{_name}"] = f"priority flat-rate {_words} abroad"

EXTRAS = {
    "certificate-of-mailing": "certificate of mailing",
    "certificate-firm-sheet": "certificate on a firm sheet",
    "insurance": "insurance",
    "insurance-abroad": "insurance",
    "signature": "signature",
}

EXTRA_MARKS = {  # in a narrow column
    "certificate-of-mailing": "certificate",
    "certificate-firm-sheet": "firm sheet",
    "insurance": "insured",
    "insurance-abroad": "insured",
}


def extra_words(code: str) -> str:
    """Return an extra in a few words; one without words as its code."""
    return EXTRAS.get(code, code)


def service_words(service: str) -> str:
    """Return a service in a few words; one that only a list of your own has, as its id."""
    return WORDS.get(service, service)


def services_meant(text: str, charts: Charts) -> frozenset[str]:
    """Return the ids of the services that a name in someone's list may mean: by their names, ids or words here."""
    known = {**charts.known, **{service: charts.service(service) for service in charts.services()}}
    by_words = (service for service in known if service_words(service).casefold() == text.strip().casefold())
    return services_named(text, known.values()) | frozenset(by_words)
