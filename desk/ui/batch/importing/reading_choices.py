"""How a table to import is read: its kind, encoding, separator, and anything that reads two ways."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QWidget

from desk.domain.places.country import HOME
from desk.session.importing.import_table import (
    DELIMITERS,
    ENCODINGS,
    KINDS,
    ColumnMapping,
    FormatWord,
    OpenedTable,
    answered,
)
from desk.session.words.facts import country_in_words
from desk.ui.kit.fields.framed import Choices
from desk.ui.kit.wrapping import FlowLayout, labeled

SEPARATORS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "bar"}
ANSWERS = {  # box -> its mapping words, with the text shown
    "dates": {FormatWord.DAY_FIRST: "day first", FormatWord.MONTH_FIRST: "month first"},
    "decimal": {
        FormatWord.POINT_DECIMALS: "point before cents",
        FormatWord.COMMA_DECIMALS: "comma before cents",
    },
    "discount": {
        FormatWord.FRACTION: "share of the price",
        FormatWord.PERCENT: "percent",
        FormatWord.AMOUNT: "amount of money",
    },
}
LABELS = {
    "kind": "&File contains",
    "encoding": "&Encoding",
    "delimiter": "Sep&arator",
    "sheet": "&Sheet",
    "country": "Countr&y of all orders",
    "dates": "&Dates",
    "decimal": "A&mounts",
    "discount": "Disc&ount",
}


class ReadingChoicesBar(QWidget):
    """The choices. `changed`: one was changed, so read the table again."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.mapping = ColumnMapping()
        self.boxes: dict[str, Choices] = {}
        self._pairs: dict[str, QWidget] = {}
        self._line = FlowLayout(self, gap=12)
        self._shown: OpenedTable | None = None
        for name, words in LABELS.items():
            self._add(name, words)

    @property
    def kind(self) -> str:
        """The chosen kind of table."""
        return str(self.boxes["kind"].currentData() or "")

    def show_table(self, opened: OpenedTable, countries: Iterable[str] = ()) -> None:
        """Show the choices made and the options for a table; `countries` are those it may all go to, by code."""
        self._shown, preview = opened, opened.preview
        self._fill("kind", [(kind, kind) for kind in KINDS], opened.kind)
        own = [(preview.encoding, preview.encoding)] if preview.encoding and preview.encoding not in ENCODINGS else []
        if preview.encodings:
            likely = [(name, f"{name}: {words}" if words else name) for name, words in preview.encodings]
            rest = [(name, name) for name in ENCODINGS if name not in dict(preview.encodings)]
            self._fill("encoding", [("", "Choose…"), *likely, *rest], "")
        else:
            self._fill("encoding", own + [(name, name) for name in ENCODINGS], preview.encoding)
        self._fill("delimiter", [(mark, SEPARATORS.get(mark, mark)) for mark in DELIMITERS], preview.delimiter)
        self._fill("sheet", [(name, name) for name in preview.sheets], preview.sheet)
        is_shown = {"kind": True, "encoding": bool(preview.encoding), "delimiter": bool(preview.delimiter)}
        is_shown["sheet"] = len(preview.sheets) > 1
        is_shown["country"] = bool(preview.country or preview.likely_country or "country" in preview.missing)
        self._fill("country", [("", "Choose…"), *_by_name(countries)], preview.country)
        for name in ANSWERS:
            is_shown[name] = self._ask(name, opened)
        for name, shown in is_shown.items():
            self._pairs[name].setVisible(shown)

    def ask_first(self) -> bool:
        """Put the focus on the first open question; return False when there is none."""
        for name in ("encoding", *ANSWERS, "country"):
            if name == "country" and not self._is_asked_alone():
                continue
            if self._pairs[name].isVisible() and not self.boxes[name].currentData():
                self.boxes[name].setFocus()
                return True
        return False

    def _is_asked_alone(self) -> bool:
        """Return whether only the country is missing, and nothing suggests it."""
        preview = self._shown.preview if self._shown else None
        return (
            preview is not None
            and preview.missing == ("country",)
            and not preview.likely_country
            and not preview.suggestions
        )

    def _add(self, name: str, words: str) -> None:
        box = Choices()
        box.setSizeAdjustPolicy(Choices.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        box.setMinimumContentsLength(18 if name in ANSWERS else 11)
        self.boxes[name] = box
        self._pairs[name] = labeled(words, box)
        self._line.addWidget(self._pairs[name])
        box.activated.connect(lambda _place: self._choose(name))

    def _fill(self, name: str, pairs: Iterable[tuple[str, str]], chosen: str) -> None:
        box = self.boxes[name]
        with QSignalBlocker(box):
            box.clear()
            for value, words in pairs:
                box.addItem(words, value)
            box.setCurrentIndex(box.findData(chosen))

    def _ask(self, name: str, opened: OpenedTable) -> bool:
        """Show the readings of a question with any answer given; return whether there is a question."""
        words = ANSWERS[name]
        chosen = {word for format_words in self.mapping.formats.values() for word in format_words}
        answer = next((word for word in words if word in chosen), "")
        readings = next((dict(q.readings) for q in opened.preview.questions if words.keys() & q.readings.keys()), {})
        pairs = [
            (word, ": ".join(filter(None, (words[word], readings.get(word, "")))))
            for word in words
            if word in readings or word == answer
        ]
        self._fill(name, [("", "Choose…"), *pairs], "" if readings else answer)
        return bool(pairs)

    def _choose(self, name: str) -> None:
        value = str(self.boxes[name].currentData() or "")
        if name in ANSWERS and self._shown is not None:
            self.mapping = answered(self.mapping, self._shown.preview, value, ANSWERS[name])
        elif name == "country":
            self.mapping = replace(self.mapping, country=value)
        elif name != "kind":
            self.mapping = replace(self.mapping, reading=replace(self.mapping.reading, **{name: value}))
        self.changed.emit()


def _by_name(countries: Iterable[str]) -> list[tuple[str, str]]:
    """Return codes and names, sorted by name, with the United States first."""
    named = [(code, country_in_words(code).removeprefix("the ")) for code in countries]
    return sorted(named, key=lambda one: (one[0] != HOME, one[1]))
