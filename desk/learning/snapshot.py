"""Convert what was learned to bytes and back: a cache, so that a start need not learn years of weighings again."""

from __future__ import annotations

import io
import json
from dataclasses import asdict
from typing import Any  # as numpy and json take values
from zipfile import BadZipFile

import numpy as np

from desk.learning.explanations import PreviousWeighing
from desk.learning.learner import Learner
from desk.learning.parameters import METHOD_VERSION, Parameters
from desk.learning.state import LearnedState, SleepingProduct

ARRAYS = ("mean", "covariance", "uses", "units", "last_used")


def to_bytes(learner: Learner) -> bytes:
    """Return everything a learner knows."""
    state = learner.state
    rest: dict[str, Any] = {  # as json takes it
        "version": METHOD_VERSION,
        "settings": asdict(state.settings),
        "products": state.products,
        "mailers": state.mailers,
        "typed": state.typed,
        "packing_var": list(state.packing_var.items()),
        "packing_count": list(state.packing_count.items()),
        "pulls": list(state.pulls.items()),
        "asleep": {name: asdict(asleep) for name, asleep in state.asleep.items()},
        "weighings": state.weighings,
        "trust": state.trust,
        "light_odds": state.light_odds,
        "heavy_odds": state.heavy_odds,
        "before": None if learner.before is None else asdict(learner.before),
    }
    text = np.frombuffer(json.dumps(rest).encode(), dtype=np.uint8)
    file = io.BytesIO()
    np.savez(file, rest=text, **{name: getattr(state, name) for name in ARRAYS})
    return file.getvalue()


def from_bytes(content: bytes, settings: Parameters) -> Learner | None:
    """Return the learner in a snapshot; None when it is damaged, or from another method or other settings."""
    try:
        with np.load(io.BytesIO(content), allow_pickle=False) as file:
            arrays = {name: file[name] for name in ARRAYS}
            rest = json.loads(bytes(file["rest"]))
        if rest["version"] != METHOD_VERSION or rest["settings"] != asdict(settings):
            return None
        return _learner(arrays, rest, settings)
    except (ValueError, KeyError, TypeError, OSError, EOFError, BadZipFile):
        return None


def _learner(arrays: dict[str, Any], rest: dict[str, Any], settings: Parameters) -> Learner:
    size = len(arrays["mean"])
    if arrays["covariance"].shape != (size, size) or len(rest["typed"]) != size:
        raise ValueError("sizes differ")
    state = LearnedState(
        settings,
        **arrays,
        products=rest["products"],
        mailers=rest["mailers"],
        typed=rest["typed"],
        packing_var=dict(rest["packing_var"]),
        packing_count=dict(rest["packing_count"]),
        pulls={place: [(pull, share) for pull, share in pulls] for place, pulls in rest["pulls"]},
        asleep={name: SleepingProduct(**asleep) for name, asleep in rest["asleep"].items()},
        weighings=rest["weighings"],
        trust=rest["trust"],
        light_odds=rest["light_odds"],
        heavy_odds=rest["heavy_odds"],
    )
    return Learner(state, None if rest["before"] is None else PreviousWeighing(**rest["before"]))
