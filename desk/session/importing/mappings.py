"""Saved mappings: matched to a list by its header row, exported and imported as TOML."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from desk.domain.faults import Refused
from desk.domain.whole_file import write_whole
from desk.intake.columns.headers import folded
from desk.intake.order_headers.mapping_file import ColumnMapping, mapping_text, read_mapping
from desk.session.sitting import Sitting
from desk.store.tables import settings

KEPT = "order list mappings"


@dataclass(frozen=True, slots=True)
class SavedMapping:
    """A named mapping. `header` is the header row it was made for.

    `header` is empty when the mapping came from a file; then the headers it names decide.
    """

    mapping: ColumnMapping
    header: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The name you gave it."""
        return self.mapping.name


@dataclass(frozen=True, slots=True)
class SavedMappings:
    """All saved mappings, newest first."""

    all: tuple[SavedMapping, ...] = ()


def saved_mappings(sitting: Sitting) -> tuple[SavedMapping, ...]:
    """Return the saved mappings, newest first."""
    with sitting.store.reading() as conn:
        return settings.read(conn, KEPT, SavedMappings()).all


def save_mapping(sitting: Sitting, name: str, mapping: ColumnMapping, header: Sequence[str] = ()) -> None:
    """Save a mapping under a name, replacing one of the same name, as one step. Refused without a name."""
    if not name.strip():
        raise Refused("Type a name for the mapping, such as the shop it is for.")
    fresh = SavedMapping(replace(mapping, name=name.strip()), tuple(header))
    _keep(sitting, f"Mapping saved: {fresh.name}", (fresh, *_others(sitting, fresh.name)))


def forget_mapping(sitting: Sitting, name: str) -> None:
    """Delete a saved mapping, as one step."""
    _keep(sitting, f"Mapping deleted: {name}", _others(sitting, name))


def mapping_for(sitting: Sitting, header: Sequence[str]) -> SavedMapping | None:
    """Return the mapping saved for a header row: the same headers in any order, else headers that are all there."""
    row = frozenset(filter(None, map(folded, header)))
    mappings = saved_mappings(sitting)
    same = (saved for saved in mappings if saved.header and frozenset(filter(None, map(folded, saved.header))) == row)
    return next(same, None) or next((saved for saved in mappings if _named_in(saved, row)), None)


def write_mapping(mapping: ColumnMapping, path: Path) -> Path:
    """Write a mapping as TOML and return the file. Refused when the file can't be written."""
    try:
        write_whole(path, mapping_text(mapping).encode())
    except OSError as error:
        raise Refused(f"{path} cannot be written: {error.strerror}. Choose another place.") from error
    return path


def import_mapping(sitting: Sitting, path: Path) -> SavedMapping:
    """Save a mapping from a TOML file, under its own name or the file's; Unreadable with every fault."""
    mapping = read_mapping(path)
    save_mapping(sitting, mapping.name or path.stem, mapping)
    return saved_mappings(sitting)[0]


def _named_in(saved: SavedMapping, row: frozenset[str]) -> bool:
    named = frozenset(folded(header) for header in saved.mapping.columns.values() if header)
    return not saved.header and bool(named) and named <= row


def _others(sitting: Sitting, name: str) -> tuple[SavedMapping, ...]:
    return tuple(saved for saved in saved_mappings(sitting) if saved.name != name)


def _keep(sitting: Sitting, step: str, mappings: tuple[SavedMapping, ...]) -> None:
    with sitting.store.act(step) as tx:
        settings.write(tx, KEPT, SavedMappings(mappings))
    sitting.announce(sitting.store.last_changes)
