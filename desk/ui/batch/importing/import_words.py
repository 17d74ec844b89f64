"""What there is to say of a table that is looked into: how it was read, what is missing, asked and wrong; what it would do."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from desk.domain.faults import FileFault
from desk.session.importing.import_table import Outcome, Taken
from desk.session.importing.preview import Preview
from desk.session.words.fields import field_words

Say = Callable[[str], str]
MOST = 12  # lines; more faults than these are counted


def remarks(found: Preview, say: Say) -> list[str]:
    """One sentence each, the most needed first; `say` translates. What a column may be is said at the column."""
    said = fault_words([fault for fault in found.faults if fault.column not in found.missing])
    if found.missing:
        said.append(say("No column yet for: {fields}.").format(fields=", ".join(map(field_words, found.missing))))
    said += [_asked(found, place, say) for place in range(len(found.questions))]
    return shortened(said, say)


def _asked(found: Preview, place: int, say: Say) -> str:
    asked = found.questions[place]
    words = say("Line {line}, {column}: {found} reads two ways. Say which at “{field}”.")
    field = say("Dates") if asked.about == "dates" else say("Amounts")
    said = words.format(line=asked.line, column=asked.column, found=asked.found, field=field)
    if asked.likely:
        said += " " + say("Other cells of the file speak for {likely}.").format(likely=asked.readings[asked.likely])
    return said


def fault_words(faults: Sequence[FileFault]) -> list[str]:
    """Each fault without the name of the file, which stands above."""
    return [str(fault).removeprefix(f"{fault.file}: ") for fault in faults]


def shortened(lines: Sequence[str], say: Say) -> list[str]:
    """The first lines, and how many more there are."""
    more = len(lines) - MOST
    return [*lines[:MOST], *([say("And {count} more.").format(count=more)] if more > 0 else [])]


def does_words(outcome: Outcome, say: Say) -> str:
    """What taking it in would do: how many are new, the same, changed, and left out by their status."""
    changed = len(outcome.changed)
    said = say("{new} new, {same} the same, {changed} changed.")
    words = said.format(new=outcome.new, same=outcome.same, changed=changed)
    if outcome.skipped:
        counts = ", ".join(f"{count} {status}" for status, count in sorted(outcome.skipped.items()))
        words += " " + say("Left out by status: {counts}.").format(counts=counts)
    if changed:
        words += " " + say("Space accepts a change, A all of them; what is not accepted stays as it was.")
    return words


def taken_words(outcome: Outcome, done: Taken, say: Say) -> str:
    """What was done: new ones, accepted changes, cancelled orders set aside, and those put back on the line."""
    said = say("Taken in: {new} new, {changed} changed, {same} as before.")
    words = [said.format(new=done.new, changed=done.changed, same=outcome.same)]
    if left := len(outcome.changed) - done.changed:
        one = say("1 change left as it was.")
        words.append(one if left == 1 else say("{count} changes left as they were.").format(count=left))
    if done.set_aside:
        words.append(say("{count} cancelled, set aside.").format(count=done.set_aside))
    if done.back:
        words.append(say("{count} not cancelled any more, back on the line.").format(count=done.back))
    return " ".join(words)
