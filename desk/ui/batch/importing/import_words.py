"""Sentences about a table to import: what is missing, asked or wrong, and what the import would do."""

from __future__ import annotations

from collections.abc import Sequence

from desk.domain.faults import FileFault, fault_lines
from desk.session.importing.import_table import ImportEffect, Taken
from desk.session.importing.list_findings import items_words, one_line, split_words
from desk.session.importing.preview import Preview
from desk.session.words.facts import country_in_words
from desk.session.words.fields import field_words
from desk.session.words.figures import counted

MOST = 12  # lines; more are counted


def remarks(preview: Preview) -> list[str]:
    """Return the remarks, most important first. Suggestions for a column are shown at the column."""
    lines = fault_words([fault for fault in preview.faults if fault.column not in preview.missing])
    if preview.encodings:
        lines.insert(0, "This file can be read in several encodings. Choose the one in which the names look right.")
    missing = [name for name in preview.missing if name != "country" or not preview.likely_country]
    if preview.likely_country:
        where = country_in_words(preview.likely_country)
        lines.append(
            f"No country column. The postal codes look like those of {where}. Shift+Space uses it for all orders."
        )
    if preview.country and "country" not in preview.columns:
        lines.append(f"No country column: all orders go to {country_in_words(preview.country)}.")
    if missing:
        lines.append(f"No column yet for: {', '.join(map(field_words, missing))}.")
    for question in preview.questions:
        readings = " or ".join(question.readings.values())
        cells = counted(question.count, "cell")
        lines.append(f"{question.header}: {cells} could be {readings} (“{question.values[0]}”). Choose above.")
    lines += [f"“{one_line(one.text)}” is read as {split_words(one.parts)}." for one in preview.splits]
    lines += [f"“{one_line(one.text)}” is read as {items_words(one.items)}." for one in preview.several]
    if preview.side_by_side:
        lines.append(f"Read as more lines of the order: {', '.join(preview.side_by_side)}.")
    if preview.unsettled:
        lines.append(f"Choose or skip before importing: {', '.join(one.words() for one in preview.unsettled)}.")
    if others := [one.words() for one in preview.ignored if not one.looks_like]:
        lines.append(f"Not read: {', '.join(others)}.")
    if preview.skipped:
        names = ", ".join(f"“{header}”" for header in preview.skipped)
        lines.append(f"Skipped as you chose: {names}.")
    return shortened(lines)


def fault_words(faults: Sequence[FileFault]) -> list[str]:
    """Return the faults as lines without the file name, which is shown above them."""
    names = {f"{fault.file}: " for fault in faults}
    return [
        line.removeprefix(next((name for name in names if line.startswith(name)), "")) for line in fault_lines(faults)
    ]


def shortened(lines: Sequence[str]) -> list[str]:
    """Return the first lines, and how many more there are."""
    more = len(lines) - MOST
    return [*lines[:MOST], *([f"And {more} more."] if more > 0 else [])]


def does_words(outcome: ImportEffect) -> str:
    """Return what the import would do: how many records are new, unchanged, changed, or left out by status."""
    words = f"{outcome.new} new, {outcome.same} unchanged, {len(outcome.changed)} changed."
    if outcome.skipped:
        counts = ", ".join(f"{count} {status}" for status, count in sorted(outcome.skipped.items()))
        words += f" Left out: {counts}."
    if outcome.issues:
        words += f" {outcome.issues} to check after the import."
    if outcome.filled:
        words += f" {len(outcome.filled)} fill an empty field and are accepted."
    if len(outcome.changed) > len(outcome.filled):
        words += " Space accepts a change, Shift+Space all. The rest stay as they were."
    return words


def taken_words(outcome: ImportEffect, done: Taken) -> str:
    """Return what was imported: new records, accepted changes, canceled orders set aside, and orders put back."""
    words = [f"Imported: {done.new} new, {done.changed} changed, {outcome.same} unchanged."]
    if left := len(outcome.changed) - done.changed:
        words.append(f"{counted(left, 'change was', 'changes were')} not accepted.")
    if done.set_aside:
        words.append(f"{done.set_aside} canceled and set aside.")
    if done.back:
        words.append(f"{done.back} no longer canceled, back to the queue.")
    return " ".join(words)
