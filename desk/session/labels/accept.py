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
from desk.session.labels.settled import settled_labels, waiting_labels
from desk.session.papers.bought_labels import SETTING, BoughtLabels, bought_labels
from desk.session.papers.kinds import Paper
from desk.session.papers.paper_settings import PaperSettings
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.words.figures import pieces_in_words
from desk.store.tables import hand_overs, pieces, settings


def digest_of(file: Path) -> str:
    """Return the digest of a file, which identifies it. Refused when it can't be read."""
    try:
        return hashlib.sha256(file.read_bytes()).hexdigest()
    except OSError as fault:
        raise Refused(f"{file.name} can't be read. Is it still where it was?") from fault


def read_files(sitting: Sitting, pile: Pile, files: Sequence[Path]) -> tuple[LabelMatch, ...]:
    """Return the labels in files matched to pieces; writes nothing, so it may run in the background.

    Of a file accepted in part, only the labels that still wait. Refused when a file was accepted whole;
    CannotRead when one can't be read.
    """
    known = bought_labels(sitting)
    labels: list[ReadLabel] = []
    for file in dict.fromkeys(files):
        labels_read, digest = read_labels(file), digest_of(file)
        if digest in known.files:
            raise Refused(f"{file.name} was imported before. Its labels are on their packages.")
        accepted = known.begun.get(digest, ())
        labels += (label for label in labels_read if _place_of(label) not in accepted)
    return match_labels(labels, candidates_of(pile))


def _place_of(label: ReadLabel) -> str:
    """Return where a label is in its file: the page and its region in whole points."""
    return " ".join(str(round(figure)) for figure in (label.page, *label.region))


LaidOut = tuple[tuple[str, Placed], ...]


def picture_of(label: ReadLabel) -> tuple[int, int, bytes]:
    """Return width, height and gray levels of a label, drawn by the second process. CannotRead when it can't be."""
    return draw_label(label)


def accept(
    sitting: Sitting,
    pile: Pile,
    matches: Sequence[LabelMatch],
    typed: Mapping[int, int] | None = None,
    laid: LaidOut = (),
    out: Path | None = None,
) -> int:
    """Save which label belongs to which piece, with tracking number and postage on, as one step. Return how many.

    `typed` are your own matches: the piece id by label index. `laid` and `out` are the PDF they were laid out in, which
    is kept for printing. Refused as `settled_labels` says, or when a file is gone.
    """
    settled = settled_labels(pile, matches, typed or {})
    imported = _with_files(bought_labels(sitting), matches, settled)
    with sitting.store.act(f"Labels accepted for {pieces_in_words(len(settled))}") as tx:
        paid = {piece.id: piece for piece in pieces.some_pieces(tx.conn, settled.values())}
        for index, piece_id in settled.items():
            tracking = matches[index].tracking or paid[piece_id].tracking
            hand_overs.match(tx, piece_id, tracking, paid[piece_id].paid)
        hand_overs.put_postage_on(tx, settled.values())
        after = imported
        if out is not None:
            first_pages = {reference: placed.pages[0] for reference, placed in laid if placed.pages}
            after = replace(after, saved=str(out.resolve()), first_pages=first_pages, was_printed=False)
        settings.write(tx, SETTING, after)
    sitting.announce(sitting.store.last_changes)
    return len(settled)


def _with_files(before: BoughtLabels, matches: Sequence[LabelMatch], settled: Mapping[int, int]) -> BoughtLabels:
    """Return the record with the files of these labels: files with labels still waiting count as begun."""
    files, begun = dict(before.files), dict(before.begun)
    waiting = {matches[index].label.file for index in waiting_labels(matches, settled)}
    for name in {one.label.file for one in matches}:
        digest = digest_of(Path(name))
        if name in waiting:
            places = (_place_of(matches[index].label) for index in settled if matches[index].label.file == name)
            begun[digest] = (*begun.get(digest, ()), *places)
        else:
            files[digest] = Path(name).name
            begun.pop(digest, None)
    return replace(before, files=files, begun=begun)


def lay_out_labels(
    pile: Pile,
    matches: Sequence[LabelMatch],
    typed: Mapping[int, int],
    paper: PaperSettings,
    out: Path,
    fonts: Path,
) -> LaidOut:
    """Write one PDF of the matched labels in batch order; return each reference with what was done.

    Runs in the background. Refused as `settled_labels` says, before anything is written; CannotRead when a file is
    gone or the PDF can't be written.
    """
    settled = {piece_id: index for index, piece_id in settled_labels(pile, matches, typed).items()}
    order = [piece_id for piece_id in pile.verdicts if piece_id in settled]
    labels = []
    for piece_id in order:
        verdict, label = pile.verdicts[piece_id], matches[settled[piece_id]].label
        words = " · ".join(filter(None, (verdict.case.number, billable_words(verdict))))
        labels.append(LabelToPlace(label.file, label.page, label.region, words))
    placed = lay_out(labels, out, paper.stock_of(Paper.LABELS).page, fonts)
    return tuple((pile.verdicts[piece_id].case.key.reference, one) for piece_id, one in zip(order, placed, strict=True))
