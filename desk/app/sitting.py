"""Open a sitting for the window: your own store, or the demo in a temporary store."""

from __future__ import annotations

import atexit
import shutil
import tempfile
from datetime import date
from importlib.resources import as_file
from pathlib import Path

from desk.app.background.relearn import Relearn
from desk.app.demo import DEMO_DATE
from desk.app.own_bench import OwnBench
from desk.app.paths import own_store
from desk.domain.clock import SystemClock, today
from desk.domain.resources import resources
from desk.domain.severity import Severity
from desk.domain.whole_file import make_private_folder
from desk.intake.shop.shop_file import read_shop
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.importing.preview import read_orders_of
from desk.session.learned.memory_file import recall
from desk.session.pile.pile import Pile
from desk.session.pile.stored_cases import read_terms
from desk.session.rulebook import read_rulebook
from desk.session.setup.own_rules import shelf_in, use_own
from desk.session.sitting import Sitting
from desk.session.verdict.verdict import Terms
from desk.store.engine import file_of
from desk.store.store import open_store
from desk.ui.bridge import Desk, OngoingState


def open_own(where: str | Path) -> Desk:
    """Return the desk of your own data: a file (created if missing) or a PostgreSQL address.

    The mailing date is today. Own price lists are saved beside the file; for a server, beside this computer's own file.
    """
    file = file_of(where)
    folder = file.parent if file is not None else own_store().parent
    make_private_folder(folder)
    bench = OwnBench(own_store().parent)
    try:
        desk = _desk(_sitting(where, today(SystemClock()), bench.name), folder)
    except BaseException:
        bench.leave()
        raise
    bench.setParent(desk)
    desk.closing.connect(bench.leave)
    return desk


def open_demo() -> Desk:
    """Return the desk of the Sorrel Street Bindery (invented): its shop and orders, nothing weighed yet."""
    folder = Path(tempfile.mkdtemp(prefix="tare-and-tag-demo-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    sitting = _sitting(folder / "demo.sqlite", date.fromisoformat(DEMO_DATE))
    with as_file(resources() / "demo") as demo:
        shop = read_shop(demo / "shop.toml")
        orders = read_orders_of(demo / "orders.csv", Terms(shop, sitting.rulebook, sitting.on))
    import_shop(sitting, shop)
    import_orders(sitting, orders)
    return _desk(sitting, folder, is_demo=True)


def _desk(sitting: Sitting, folder: Path, *, is_demo: bool = False) -> Desk:
    """Return the desk of a sitting, with the shop's own price lists and zone chart."""
    shelf = shelf_in(folder, resources())
    faults = use_own(sitting, shelf)
    memory = None if is_demo else recall(sitting, read_terms(sitting).shop, folder)
    desk = Desk(sitting, Pile(sitting, memory), resources(), is_demo=is_demo)
    Relearn(desk, folder)
    desk.own_lists = shelf.own
    if faults:
        words = "; ".join(str(fault) for fault in faults)
        desk.state(
            "own-lists",
            OngoingState(f"One of your price lists can't be read and was left out: {words}.", Severity.STOP),
        )
    return desk


def _sitting(where: str | Path, on: date, bench: str = "bench 1") -> Sitting:
    clock = SystemClock()
    return Sitting(open_store(where, clock, bench), clock, read_rulebook(resources()), on)
