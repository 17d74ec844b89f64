"""Import bought labels: files are read once, labels accepted for their pieces and put in batch order."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from desk.domain.faults import Refused
from desk.paper.bought.reading import LabelToPlace, Placed, ReadLabel, draw_label, lay_out, read_labels
from desk.session.contents.piece_words import billable_words
from desk.session.labels.matching import LabelMatch, candidates_of, match_labels
from desk.session.papers.bought_labels import SETTING, bought_labels
from desk.session.papers.kinds import Paper
from desk.session.papers.paper_settings import PaperSettings
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.words.counts import pieces_in_words
from desk.store.tables import hand_overs, pieces, settings


def digest_of(file: Path) -> str:
    """Return the digest of a file, which identifies it; OSError when it can't be read."""
    return hashlib.sha256(file.read_bytes()).hexdigest()


def read_files(sitting: Sitting, pile: Pile, files: Sequence[Path]) -> tuple[LabelMatch, ...]:
    """Return the labels in files matched to pieces; writes nothing, so it may run in the background.

    Refused when a file was accepted before; CannotRead when one can't be read.
    """
    known = bought_labels(sitting).files
    labels: list[ReadLabel] = []
    for file in dict.fromkeys(files):
        labels += read_labels(file)
        if digest_of(file) in known:
            raise Refused(f"{file.name} was imported before. Its labels are on their packages.")
    return match_labels(labels, candidates_of(pile))


LaidOut = tuple[tuple[str, Placed], ...]


def picture_of(label: ReadLabel) -> tuple[int, int, bytes]:
    """Return width, height and gray levels of a label, drawn by the second process. CannotRead when it can't be."""
    return draw_label(label)


def accept(
    sitting: Sitting,
    matches: Sequence[LabelMatch],
    typed: Mapping[int, int] | None = None,
    laid: LaidOut = (),
    out: Path | None = None,
) -> int:
    """Save which label belongs to which piece, with tracking number and postage on, as one step. Return how many.

    `typed` are your own matches: the piece id by label index. `laid` and `out` are the PDF they were laid out in, which
    is kept for printing. Refused when two labels are for one piece, or when none is matched.
    """
    settled = _settled(matches, typed or {})
    if not settled:
        raise Refused("No label is matched yet. Type a number for at least one.")
    if len(set(settled.values())) < len(settled):
        raise Refused("Two labels are for the same package. Type another number for one.")
    before = bought_labels(sitting)
    files = {digest_of(Path(name)): Path(name).name for name in {one.label.file for one in matches}}
    with sitting.store.act(f"Labels accepted for {pieces_in_words(len(settled))}") as tx:
        paid = {piece.id: piece for piece in pieces.some_pieces(tx.conn, settled.values())}
        for index, piece_id in settled.items():
            tracking = matches[index].tracking or paid[piece_id].tracking
            hand_overs.match(tx, piece_id, tracking, paid[piece_id].paid)
        hand_overs.put_postage_on(tx, settled.values())
        after = replace(before, files={**before.files, **files})
        if out is not None:
            first_pages = {reference: placed.pages[0] for reference, placed in laid if placed.pages}
            after = replace(after, saved=str(out.resolve()), first_pages=first_pages, was_printed=False)
        settings.write(tx, SETTING, after)
    sitting.announce(sitting.store.last_changes)
    return len(settled)


def lay_out_labels(
    pile: Pile,
    matches: Sequence[LabelMatch],
    typed: Mapping[int, int],
    paper: PaperSettings,
    out: Path,
    fonts: Path,
) -> LaidOut:
    """Write one PDF of the matched labels in batch order; return each reference with what was done.

    Runs in the background. CannotRead when a file is gone or the PDF can't be written.
    """
    settled = {piece_id: index for index, piece_id in _settled(matches, typed).items()}
    order = [piece_id for piece_id in pile.verdicts if piece_id in settled]
    labels = []
    for piece_id in order:
        verdict, label = pile.verdicts[piece_id], matches[settled[piece_id]].label
        words = " · ".join(filter(None, (verdict.case.key.reference, billable_words(verdict))))
        labels.append(LabelToPlace(label.file, label.page, label.region, words))
    placed = lay_out(labels, out, paper.stock_of(Paper.LABELS).page, fonts)
    return tuple((pile.verdicts[piece_id].case.key.reference, one) for piece_id, one in zip(order, placed, strict=True))


def _settled(matches: Sequence[LabelMatch], typed: Mapping[int, int]) -> dict[int, int]:
    """Return the piece id by label index; a typed number wins."""
    by_itself = {index: one.piece_id for index, one in enumerate(matches) if one.piece_id is not None}
    return by_itself | dict(typed)
