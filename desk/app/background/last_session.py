"""Say at the start what the last session left unfinished, after a crash or a power cut."""

from __future__ import annotations

from desk.domain.severity import Severity
from desk.session.unfinished import LastSession, WorkKind, dismiss, last_session
from desk.session.words.figures import moment_in_words
from desk.ui.bridge import Desk, OngoingState

STRIP = "last session"
SENTENCES = {
    WorkKind.PRINTING: "It was printing {what}. Check what came out before you print again.",
    WorkKind.IMPORTING: "It was importing {what}. Import it again; what is already here stays as it is.",
}

RUN = (
    "A run without the window over {what}, begun on {when}, has not finished. If it isn't still going, run it again; "
    "what is already here stays as it is."
)


def report_last_session(desk: Desk) -> None:
    """Show a strip when the last window of this bench did not close; call before other benches are followed."""
    words = words_for(last_session(desk.sitting))
    if desk.is_demo or not words:
        return

    def close() -> None:
        dismiss(desk.sitting)
        desk.state(STRIP, None)

    desk.state(STRIP, OngoingState(words, Severity.LOOK, (("Dismiss", close),), dismissed=close))


def words_for(left: LastSession) -> str:
    """Return the sentences of the strip; empty when there is nothing to say."""
    words = []
    if left.was_cut_off or left.unfinished:
        saved = f"The last step saved is “{left.last_step}”." if left.last_step else "Nothing had been done yet."
        unfinished = [SENTENCES[kind].format(what=what) for kind, what in left.unfinished.items()]
        words = ["The program stopped unexpectedly last time.", saved, *unfinished]
    words += [RUN.format(what=what, when=moment_in_words(at)) for what, at in left.runs.items()]
    return " ".join(words)
