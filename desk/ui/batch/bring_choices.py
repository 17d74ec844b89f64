"""How a table that is brought is read: what it holds, its encoding, columns and whatever reads two ways. All changeable."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QSizePolicy, QWidget

from desk.session.bring import DELIMITERS, ENCODINGS, KINDS, ORDERS, ColumnMapping, Looked, with_column
from desk.ui.kit import type as typeface
from desk.ui.kit.field import Choices, Line
from desk.ui.kit.wrapping import FlowLayout, labelled

SIGNS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "bar"}
ASKED = ("dates", "decimal")


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
            "kind": self.tr("&Holds"),
            "encoding": self.tr("&Encoding"),
            "delimiter": self.tr("&Between columns"),
            "sheet": self.tr("&Sheet"),
            "ours": self.tr("Our &field"),
            "header": self.tr("is the &column"),
            "dates": self.tr("&Dates"),
            "decimal": self.tr("&Amounts"),
        }
        for name, words in said.items():
            self._add(name, words)
        self.prefix, self.name = Line(), Line()
        for field, words in ((self.prefix, self.tr("&Prefix")), (self.name, self.tr("Sa&ved as"))):
            field.setFixedWidth(round(150 * typeface.scale()))
            pair = labelled(words, field)
            pair.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
            self._line.addWidget(pair)
            field.editingFinished.connect(self._typed)

    @property
    def kind(self) -> str:
        """What the table is taken to hold."""
        return str(self.boxes["kind"].currentData() or "")

    def begin(self, mapping: ColumnMapping, name: str) -> None:
        """Begin with a mapping, saved before or empty, for a table of that name."""
        self.mapping = mapping
        self.prefix.setText(mapping.prefix)
        self.name.setText(mapping.name or name)

    def show_table(self, looked: Looked) -> None:
        """Show what is chosen, and offer what may be chosen, for a table as it was looked at."""
        found, reading = looked.preview, self.mapping.reading
        self._fill("kind", [(kind, kind) for kind in KINDS], looked.kind)
        own = [(found.encoding, found.encoding)] if found.encoding and found.encoding not in ENCODINGS else []
        self._fill("encoding", own + [(name, name) for name in ENCODINGS], found.encoding)
        self._fill("delimiter", [(sign, SIGNS.get(sign, sign)) for sign in DELIMITERS], found.delimiter)
        self._fill("sheet", [(name, name) for name in found.sheets], found.sheet)
        self._fill_columns(looked)
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
        box.setMinimumContentsLength(11)
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

    def _fill_columns(self, looked: Looked) -> None:
        """A field that is wanted and has no column is chosen first, with the header offered for it."""
        found, chosen = looked.preview, str(self.boxes["ours"].currentData() or "")
        if found.missing and chosen in ("", *found.columns):
            chosen = found.missing[0]
        chosen = chosen if chosen in looked.fields else looked.fields[0]
        held = dict(zip(found.columns, found.headers, strict=True))
        marks = {name: f"{name} ← {held[name]}" if name in held else f"{name} ← ?" for name in looked.fields}
        self._fill("ours", [(name, marks[name]) for name in looked.fields], chosen)
        headers = [(header, header) for header in dict.fromkeys(filter(None, found.header))]
        self._fill("header", [("", self.tr("no column")), *headers], held.get(chosen, found.offered.get(chosen, "")))

    def _asked(self, looked: Looked) -> dict[str, dict[str, str]]:
        return {question.about: dict(question.readings) for question in looked.preview.questions}

    def _ask(self, looked: Looked) -> None:
        for about in ASKED:
            answer = str(getattr(self.mapping.reading, about))
            readings = self._asked(looked).get(about, {answer: answer} if answer else {})
            words = [(value, f"{value}: {shown}" if shown != value else value) for value, shown in readings.items()]
            self._fill(about, [("", self.tr("say which")), *words], answer)

    def _chosen(self, name: str) -> None:
        value = str(self.boxes[name].currentData() or "")
        if name == "header":
            self.mapping = with_column(self.mapping, str(self.boxes["ours"].currentData()), value)
        elif name not in ("kind", "ours"):
            self.mapping = replace(self.mapping, reading=replace(self.mapping.reading, **{name: value}))
        self.changed.emit()

    def _typed(self) -> None:
        typed = self.prefix.text().strip()
        if typed != self.mapping.prefix:
            self.mapping = replace(self.mapping, prefix=typed)
            self.changed.emit()


def can_be_saved(kind: str) -> bool:
    """Mappings are kept for order lists, whose headers differ from shop to shop."""
    return kind == ORDERS
