"""How a table that is brought is read: what it holds, its encoding, and whatever reads two ways. All changeable."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QWidget

from desk.session.importing.import_table import DELIMITERS, ENCODINGS, KINDS, ColumnMapping, Looked
from desk.ui.kit.field import Choices
from desk.ui.kit.wrapping import FlowLayout, labelled

SIGNS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "bar"}
ASKED = ("dates", "decimal")
ASKED_WORDS = {
    "day": "the day first",
    "month": "the month first",
    ".": "a point before cents",
    ",": "a comma before cents",
}


class BringChoices(QWidget):
    """The choices. `changed` when the person made another one: look at the table again."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.mapping = ColumnMapping()
        self.boxes: dict[str, Choices] = {}
        self._pairs: dict[str, QWidget] = {}
        self._line = FlowLayout(self, gap=12)
        said = {
            "kind": "&Holds",
            "encoding": "&Encoding",
            "delimiter": "&Between columns",
            "sheet": "&Sheet",
            "dates": "&Dates",
            "decimal": "&Amounts",
        }
        for name, words in said.items():
            self._add(name, words)

    @property
    def kind(self) -> str:
        """What the table is taken to hold."""
        return str(self.boxes["kind"].currentData() or "")

    def show_table(self, looked: Looked) -> None:
        """Show what is chosen, and offer what may be chosen, for a table as it was looked at."""
        found, reading = looked.preview, self.mapping.reading
        self._fill("kind", [(kind, kind) for kind in KINDS], looked.kind)
        own = [(found.encoding, found.encoding)] if found.encoding and found.encoding not in ENCODINGS else []
        self._fill("encoding", own + [(name, name) for name in ENCODINGS], found.encoding)
        self._fill("delimiter", [(sign, SIGNS.get(sign, sign)) for sign in DELIMITERS], found.delimiter)
        self._fill("sheet", [(name, name) for name in found.sheets], found.sheet)
        self._ask(looked)
        for name, shown in (
            ("encoding", bool(found.encoding)),
            ("delimiter", bool(found.delimiter)),
            ("sheet", len(found.sheets) > 1),
            *((about, about in self._asked(looked) or bool(getattr(reading, about))) for about in ASKED),
        ):
            self._pairs[name].setVisible(shown)

    def ask_first(self) -> bool:
        """Put the focus on what reads two ways; False when nothing does."""
        for about in ASKED:
            if self._pairs[about].isVisible() and not self.boxes[about].currentData():
                self.boxes[about].setFocus()
                return True
        return False

    def _add(self, name: str, words: str) -> None:
        box = Choices()
        box.setSizeAdjustPolicy(Choices.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        box.setMinimumContentsLength(18 if name in ASKED else 11)
        self.boxes[name] = box
        self._pairs[name] = labelled(words, box)
        self._line.addWidget(self._pairs[name])
        box.activated.connect(lambda _place: self._chosen(name))

    def _fill(self, name: str, pairs: Iterable[tuple[str, str]], chosen: str) -> None:
        box = self.boxes[name]
        with QSignalBlocker(box):
            box.clear()
            for value, words in pairs:
                box.addItem(words, value)
            box.setCurrentIndex(box.findData(chosen))

    def _asked(self, looked: Looked) -> dict[str, dict[str, str]]:
        return {question.about: dict(question.readings) for question in looked.preview.questions}

    def _ask(self, looked: Looked) -> None:
        for about in ASKED:
            answer = str(getattr(self.mapping.reading, about))
            readings = self._asked(looked).get(about, {answer: ""} if answer else {})
            words = [(value, ": ".join(filter(None, (ASKED_WORDS[value], shown)))) for value, shown in readings.items()]
            self._fill(about, [("", "say which"), *words], answer)

    def _chosen(self, name: str) -> None:
        value = str(self.boxes[name].currentData() or "")
        if name != "kind":
            self.mapping = replace(self.mapping, reading=replace(self.mapping.reading, **{name: value}))
        self.changed.emit()
