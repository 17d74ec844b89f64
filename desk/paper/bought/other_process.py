"""The second process: one job as JSON on standard input, one answer as JSON on standard output."""

from __future__ import annotations

import json
import sys
from contextlib import suppress
from typing import Any  # plain records for json


def main() -> int:
    """Run one job within its limits and return 0. Whatever the file contains, the answer is a result or a sentence."""
    job = json.load(sys.stdin)
    _limit(job["memory"])
    from desk.paper.bought.layout import lay_out
    from desk.paper.bought.pages import UnreadablePdf, drawn, labels_of

    try:
        if job["do"] == "read":
            answer: dict[str, Any] = {"labels": labels_of(job["file"], job["most_pages"])}
        elif job["do"] == "draw":
            answer = drawn(job["file"], job["page"], tuple(job["region"]), job["dpi"])
        else:
            answer = {"placed": lay_out(job["labels"], job["out"], tuple(job["size"]), job["fonts"])}
    except UnreadablePdf as fault:
        answer = {"fault": str(fault)}
    except (MemoryError, OSError) as fault:
        answer = {"fault": f"can't be read or written: {str(fault) or 'not enough memory'}."}
    json.dump(answer, sys.stdout)
    return 0


def _limit(memory: int) -> None:
    """Limit memory and processor time, where the system supports it."""
    with suppress(ImportError, ValueError, OSError):
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
        resource.setrlimit(resource.RLIMIT_CPU, (180, 180))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


if __name__ == "__main__":
    raise SystemExit(main())
