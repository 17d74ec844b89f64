"""A message per order from the shop's own template, to copy or to save as a table. The program sends nothing."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from desk.domain.faults import Refused
from desk.domain.whole_file import write_whole
from desk.session.contents.tables import table_bytes
from desk.session.money.after_mailing import MailedPiece
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.words.figures import day_in_words, listed
from desk.store.tables import pieces, settings

TEMPLATE = "message to buyers"  # the setting it is saved under
USUAL = "Hello {name}, your order {order} is on its way: {tracking}."
FIELDS = ("name", "order", "mailed", "tracking")
HEADERS = ("order", "email", "message")
_FIELD = re.compile(r"\{([^{}]*)\}")


@dataclass(frozen=True, slots=True)
class MessageTemplate:
    """The shop's text, with `{name}`, `{order}`, `{mailed}` and `{tracking}` for what differs."""

    text: str = USUAL


@dataclass(frozen=True, slots=True)
class Message:
    """The message for one piece's buyer."""

    order: str
    email: str
    text: str


def message_template(sitting: Sitting) -> str:
    """Return the shop's template, or the usual one."""
    with sitting.store.reading() as conn:
        return settings.read(conn, TEMPLATE, MessageTemplate()).text


def save_message_template(sitting: Sitting, text: str) -> None:
    """Save a template. Refused when it is empty or names an unknown field."""
    if not text.strip():
        raise Refused("Type a message first.")
    if wrong := [name for name in _FIELD.findall(text) if name not in FIELDS]:
        known = listed([f"{{{name}}}" for name in FIELDS])
        raise Refused(f"There is no {{{wrong[0]}}}. You can use {known}.")
    with sitting.store.act("Message to buyers saved") as tx:
        settings.write(tx, TEMPLATE, MessageTemplate(text.strip()))
    sitting.announce(sitting.store.last_changes)


def messages(sitting: Sitting, pile: Pile, mailed: Iterable[MailedPiece]) -> tuple[Message, ...]:
    """Return the messages for these pieces, in their order."""
    text, chosen = message_template(sitting), list(mailed)
    with sitting.store.reading() as conn:
        tracking = {piece.id: piece.tracking for piece in pieces.some_pieces(conn, [one.piece_id for one in chosen])}
    return tuple(_message(text, pile, one, tracking.get(one.piece_id, "")) for one in chosen)


def _message(text: str, pile: Pile, mailed: MailedPiece, tracking: str) -> Message:
    case = pile.verdicts[mailed.piece_id].case
    day = day_in_words(mailed.mailed_on)
    values = {
        "name": mailed.recipient,
        "order": case.number,
        "mailed": day,
        "tracking": f"tracking number {tracking}" if tracking else f"no tracking, mailed on {day}",
    }
    # One pass, so that braces in a buyer's name stay text.
    filled = _FIELD.sub(lambda field: values.get(field[1], field[0]), text)
    return Message(case.number, case.order.address.email, filled)


def save_messages(rows: Iterable[Message], file: Path) -> None:
    """Save messages as CSV: order, email, message. OSError when it can't be written."""
    write_whole(file, table_bytes(HEADERS, [(one.order, one.email, one.text) for one in rows]))
