"""The mapping of an order list: matched by its header row, chosen by name, saved, deleted, exported."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QPushButton, QSizePolicy, QWidget

from desk.session.importing import mappings
from desk.session.importing.import_table import ORDERS, ColumnMapping, OpenedTable
from desk.ui.bridge import Desk, Event
from desk.ui.kit import type as typeface
from desk.ui.kit.fields.framed import Choices, FramedLine
from desk.ui.kit.files import file_to_open, file_to_save
from desk.ui.kit.wrapping import FlowLayout, labeled

FILES = "Mapping (*.toml)"
LINE = 150  # pixels at 100%


class MappingLine(QWidget):
    """A line of fields. `chosen`: another mapping to read by; `prefixed`: another prefix for order numbers."""

    chosen = Signal(object)  # ColumnMapping
    prefixed = Signal(str)

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._read_by = ColumnMapping()
        self.prefix, self.name, self.box = FramedLine(), FramedLine(), Choices()
        self.box.setSizeAdjustPolicy(Choices.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.box.setMinimumContentsLength(14)
        self._line = FlowLayout(self, gap=12)
        self._build()
        self.box.activated.connect(lambda _place: self._choose())
        self.prefix.editingFinished.connect(lambda: self.prefixed.emit(self.prefix.text().strip()))

    def _build(self) -> None:
        self._line.addWidget(labeled("&Mapping", self.box))
        for field, words in ((self.prefix, "Order number &prefix"), (self.name, "Sa&ve as")):
            field.setFixedWidth(round(LINE * typeface.scale()))
            pair = labeled(words, field)
            pair.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
            self._line.addWidget(pair)
        self.forget_button = QPushButton("Delete mapping")
        self.from_button = QPushButton("Open mapping…")
        self.to_button = QPushButton("Save mapping…")
        ways = (
            (self.forget_button, self.forget),
            (self.from_button, self.ask_for_file),
            (self.to_button, self.ask_where_to),
        )
        for button, slot in ways:
            button.setAccessibleName(button.text())
            button.clicked.connect(lambda _checked=False, slot=slot: slot())
            self._line.addWidget(button)

    def begin(self, name: str) -> None:
        """Start without a mapping, for a table of that name."""
        self._show(ColumnMapping(), name)

    def found_for(self, opened: OpenedTable) -> ColumnMapping | None:
        """Return and show the mapping saved for the header row of an order list."""
        mapping = mappings.mapping_for(self._desk.sitting, opened.preview.header) if opened.kind == ORDERS else None
        if mapping is not None:
            self._show(mapping.mapping, self.name.text())
        return mapping.mapping if mapping else None

    def remember(self, mapping: ColumnMapping, header: tuple[str, ...]) -> None:
        """Save the choices made for that header row under its name; nothing when there is nothing new."""
        named = replace(mapping, name=self.name.text().strip())
        if replace(mapping, name="") != ColumnMapping() and named != self._read_by:
            self._desk.do_quietly(mappings.save_mapping, named.name, named, header)

    def forget(self) -> None:
        """Delete the chosen mapping, and read without one."""
        if self._read_by.name:
            self._desk.do(mappings.forget_mapping, self._read_by.name)
            self._take(ColumnMapping())

    def ask_for_file(self) -> None:
        """Ask for a mapping file, save its mapping, and read by it."""
        file = file_to_open(self, "Open mapping", FILES)
        imported = self._desk.do(mappings.import_mapping, file) if file else None
        if imported is not None:
            self._take(imported.mapping)

    def ask_where_to(self) -> None:
        """Ask for a file and write the current mapping there."""
        proposed = f"{self.name.text().strip() or 'mapping'}.toml"
        if (file := file_to_save(self, "Save mapping", proposed, FILES)) is not None:
            self.write(file)

    def write(self, path: Path) -> None:
        """Write the current mapping."""
        mapping = replace(self._said, name=self.name.text().strip())
        if self._desk.do_quietly(lambda _sitting: mappings.write_mapping(mapping, path)) is not None:
            self._desk.happened.emit(Event(f"Mapping saved in {path.name}."))

    def show_said(self, mapping: ColumnMapping) -> None:
        """Show the current mapping."""
        self._said = mapping
        if self.prefix.text().strip() != mapping.prefix:
            self.prefix.setText(mapping.prefix)

    def _choose(self) -> None:
        name = self.box.currentData()
        matching = (saved.mapping for saved in mappings.saved_mappings(self._desk.sitting) if saved.name == name)
        self._take(next(matching, ColumnMapping()))

    def _take(self, mapping: ColumnMapping) -> None:
        self._show(mapping, mapping.name or self.name.text())
        self.chosen.emit(mapping)

    def _show(self, mapping: ColumnMapping, name: str) -> None:
        """Show that mapping as the one in use, and offer the saved ones."""
        self._read_by = self._said = mapping
        self.name.setText(mapping.name or name)
        self.prefix.setText(mapping.prefix)
        self.forget_button.setEnabled(bool(mapping.name))
        with QSignalBlocker(self.box):
            self.box.clear()
            self.box.addItem("none", "")
            for saved in mappings.saved_mappings(self._desk.sitting):
                self.box.addItem(saved.name, saved.name)
            self.box.setCurrentIndex(max(0, self.box.findData(mapping.name)))
