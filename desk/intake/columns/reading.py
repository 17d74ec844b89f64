"""How a person said a file is to be read, where the file itself does not settle it."""

from __future__ import annotations

from dataclasses import dataclass

from desk.intake.columns.amounts import DAY_FIRST, DECIMAL_SIGNS, MONTH_FIRST

ENCODINGS = (
    "utf-8 utf-16-le utf-16-be cp1252 cp1250 cp1251 cp1253 cp1254 cp1257 cp932 gb18030 big5 cp949 mac_roman"
).split()  # offered where a person chooses; any codec of Python's is taken


@dataclass(frozen=True, slots=True)
class Reading:
    """What was chosen; an empty text: nobody chose, so it is found out, and what reads two ways is refused.

    `dates` is what a date in numbers begins with (day, month), `decimal` the sign before the decimals.
    """

    encoding: str = ""
    delimiter: str = ""
    sheet: str = ""
    dates: str = ""
    decimal: str = ""


NOTHING_CHOSEN = Reading()
DATES = (DAY_FIRST, MONTH_FIRST)
DECIMALS = DECIMAL_SIGNS
