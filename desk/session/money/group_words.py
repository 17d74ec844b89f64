"""What a group of the ledger is called on screens: a day, a month, a batch, a destination or a service in words."""

from __future__ import annotations

from datetime import date, datetime

from desk.domain.ledger import GroupBy
from desk.session.words.figures import moment_in_words, month_in_words, short_day
from desk.session.words.services import service_words

NOTHING = "\u2014"  # packages abroad have no state


def group_words(by: GroupBy, group: str) -> str:
    """Return a group's name in words; a dash for one without a name."""
    if not group:
        return NOTHING
    match by:
        case GroupBy.DAY:
            return short_day(date.fromisoformat(group))
        case GroupBy.BATCH:
            return moment_in_words(datetime.fromisoformat(group))
        case GroupBy.MONTH:
            return month_in_words(date.fromisoformat(f"{group}-01"))
        case GroupBy.COUNTRY:
            return country_in_words(group)
        case GroupBy.SERVICE:
            return service_words(group)
    return group


def country_in_words(code: str) -> str:
    """Return a country's English name; one without a name as its code. Source: Unicode CLDR, by babel."""
    from babel import Locale

    return str(Locale("en").territories.get(code, code))
