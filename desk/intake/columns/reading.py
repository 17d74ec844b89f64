"""How a file's bytes become a table, where a person chose."""

from __future__ import annotations

from dataclasses import dataclass

ENCODINGS = (
    "utf-8 utf-16-le utf-16-be cp1252 cp1250 cp1251 cp1253 cp1254 cp1257 cp932 gb18030 big5 cp949 mac_roman"
).split()  # offered to choose from; any codec of Python's is accepted


@dataclass(frozen=True, slots=True)
class ReadingChoices:
    """What was chosen; empty means nothing was chosen, so the program finds out."""

    encoding: str = ""
    delimiter: str = ""
    sheet: str = ""


NOTHING_CHOSEN = ReadingChoices()
