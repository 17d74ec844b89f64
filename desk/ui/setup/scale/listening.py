"""Cards of the scale page: the raw bytes and the format that fits, and how to get access to a scale."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QPlainTextEdit, QPushButton, QSizePolicy

from desk.session.scale.choice import ScaleKind
from desk.session.scale.listening import Listening, Proposal
from desk.session.scale.ports import PORT_RIGHTS, preset_words, rule_to_copy
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Card, Inked
from desk.ui.kit.wrapping import FlowLayout
from desk.ui.scale_bridge import ScaleBridge

MOST_PROPOSED = 3


class ListenCard(Card):
    """Shows received bytes. `chosen`: the format picked, and whether it uses 7 bits."""

    chosen = Signal(str, bool)

    def __init__(self, desk: Desk) -> None:
        super().__init__("Listen", "Listen to it")
        self._scale = desk.scale if isinstance(desk.scale, ScaleBridge) else None
        self._listening: Listening | None = None
        self._shown: tuple[Proposal, ...] = ()
        self.hint = Inked(role="soft_ink", size=typeface.SMALL)
        self.hint.setWordWrap(True)
        self.raw = QPlainTextEdit(readOnly=True)
        self.raw.setAccessibleName("What is received")
        self.raw.setTabChangesFocus(True)
        self.raw.setFixedHeight(round(140 * typeface.scale()))
        self.button = _button("")
        self.button.clicked.connect(lambda _checked=False: self.stop() if self._listening else self.start())
        self._ways = FlowLayout(gap=8)
        for part in (self.hint, self.button, self.raw):
            self.column.addWidget(part)
        self.column.addLayout(self._ways)
        self._say()
        if self._scale is not None:
            self._scale.raw.connect(self._hear)

    @property
    def is_listening(self) -> bool:
        """Return True while bytes are shown and no weights are read."""
        return self._listening is not None

    def start(self) -> None:
        """Start listening."""
        if self._scale is not None:
            self._listening = Listening()
            self._scale.listen(True)
            self._say()

    def stop(self) -> None:
        """Stop listening; weights are read again."""
        if self._listening is not None and self._scale is not None:
            self._listening = None
            self._scale.listen(False)
            self._say()

    @Slot(object)
    def _hear(self, data: bytes) -> None:
        if self._listening is None:
            return
        self._listening.hear(data)
        self.raw.setPlainText(self._listening.text())
        self._propose(self._listening.proposals()[:MOST_PROPOSED])

    def _propose(self, proposals: tuple[Proposal, ...]) -> None:
        before = [(one.preset, one.seven_bits) for one in self._shown]
        self._shown = proposals
        if before == [(one.preset, one.seven_bits) for one in proposals]:
            return  # keep the buttons, so that one can be pressed
        while (item := self._ways.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.deleteLater()
        for one in proposals:
            bits = ", 7 bits" if one.seven_bits else ""
            button = _button(f"Use: {preset_words(one.preset)}{bits}")
            button.clicked.connect(lambda _checked=False, one=one: self.chosen.emit(one.preset, one.seven_bits))
            self._ways.addWidget(button)

    def _say(self) -> None:
        on = self.is_listening
        self.button.setText("Stop listening" if on else "Listen")
        self.button.setAccessibleName(self.button.text())
        self.raw.setVisible(on)
        if not on:
            self._propose(())
            self.raw.clear()
        self.hint.setText(
            "Each known request is sent in turn. If nothing comes, try another port. If it is garbled, try another speed."
            if on
            else "Shows what is received and suggests the format that fits."
        )


class RightsCard(Card):
    """How to give the program access to a scale on Linux; shown for the kinds that need it."""

    def __init__(self) -> None:
        super().__init__("Access", "If the system won't allow access")
        self.words = Inked(role="soft_ink", size=typeface.SMALL)
        self.words.setWordWrap(True)
        self.rule = QPlainTextEdit(rule_to_copy(), readOnly=True)
        self.rule.setAccessibleName("Rule for USB scales")
        self.rule.setTabChangesFocus(True)
        self.rule.setFixedHeight(round(130 * typeface.scale()))
        self.copy = _button("Copy the rule")
        self.copy.clicked.connect(lambda _checked=False: QGuiApplication.clipboard().setText(rule_to_copy()))
        for part in (self.words, self.rule, self.copy):
            self.column.addWidget(part)

    def show_kind(self, kind: str) -> None:
        """Show what that kind of scale needs."""
        usb = kind == ScaleKind.USB
        self.setVisible(kind in (ScaleKind.USB, ScaleKind.SERIAL))
        self.rule.setVisible(usb)
        self.copy.setVisible(usb)
        self.words.setText(
            "On Linux, paste this into a terminal, then plug the scale in again." if usb else PORT_RIGHTS
        )


def _button(words: str) -> QPushButton:
    button = QPushButton(words)
    button.setAccessibleName(words)
    button.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
    return button
