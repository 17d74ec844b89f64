"""Write the results of a sitting into a folder: tables, papers and the summary, all of them or none."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import TypeVar

from desk.domain.finding import REPORTED_ONCE, Code, Finding, Severity, finding
from desk.domain.money import Money, zero
from desk.domain.status import PieceStatus
from desk.domain.whole_file import write_together
from desk.session.contents import tables
from desk.session.importing.run_inputs import RunInputs
from desk.session.lists import firm_sheet, ledger_list, postage_list
from desk.session.papers.at_once import make_all
from desk.session.papers.kinds import Paper
from desk.session.papers.making import PaperRequest, press_for
from desk.session.papers.paper_settings import PaperSettings, paper_settings
from desk.session.papers.print_check import check_printable
from desk.session.pile.batch import Batch, judge_batch
from desk.session.pile.stored_cases import read_cases, read_terms
from desk.session.pile.weighing_result import Weighed, with_not_used
from desk.session.sitting import Sitting
from desk.session.unreported import mark_reported, unreported
from desk.session.verdict.verdict import Terms, Verdict

T = TypeVar("T")
Apart = tuple[str, int | None, Finding]  # findings about no known piece: order, piece, finding


@dataclass(frozen=True, slots=True)
class Left:
    """The result of a run. `all_ready`: no piece and no weight has a stop or an open look."""

    batch: Batch
    all_ready: bool


def leave_results(
    sitting: Sitting,
    folder: Path,
    resources: Traversable,
    inputs: RunInputs,
    weighed: Weighed,
    started: datetime,
) -> Left:
    """Judge the stored batch and write everything into the folder, replacing our files there."""
    terms, settings = read_terms(sitting), paper_settings(sitting)
    labels = press_for(Paper.LABELS, terms, settings, resources)
    batch = judge_batch(read_cases(sitting, [key for key, _ in inputs.weights]), terms)
    batch = with_not_used(check_printable(batch, terms, labels.fonts, labels), weighed.not_used)
    apart = [
        *_of_lists(inputs),
        *((key.order, key.piece, _no_order(key.order, inputs)) for key in weighed.strangers),
    ]
    papers, about_papers = _papers(batch, terms, settings, resources)
    summary = _summary(sitting, batch, terms, inputs, apart)
    summary |= about_papers
    summary["times"] = _times(sitting, started)
    text = json.dumps(summary, indent=2, ensure_ascii=False) + "\n"
    money = tables.table_bytes(ledger_list.BATCH_COLUMNS, ledger_list.batch_ledger(sitting, batch.verdicts))
    tables_made = {**batch_tables(batch, terms, apart), "ledger.csv": money}
    contents = {**tables_made, **papers, "summary.json": text.encode()}
    write_together({folder / name: content for name, content in contents.items()})
    mark_reported(sitting)
    shared = [one.found for one in batch.shared if one.found.code not in REPORTED_ONCE]
    issues = (*shared, *(issue for _, _, issue in apart))
    holds_up = any(issue.severity is not Severity.NOTE for issue in issues)
    holds_up = holds_up or bool(weighed.not_used)
    return Left(batch, not holds_up and all(_is_through(verdict.status) for verdict in batch.verdicts))


def _no_order(number: str, inputs: RunInputs) -> Finding:
    """Return the issue of a weight without an order, with the status for which the lists left the order out."""
    status = dict((*inputs.shipped, *inputs.left_out)).get(number)
    return finding(Code.NO_ORDER, "", None, order=number, **({"status": status} if status else {}))


def _of_lists(inputs: RunInputs) -> Iterator[Apart]:
    for remark in inputs.remarks:
        yield "", None, remark
    for fault in inputs.damaged:
        yield "", None, finding(Code.OWN_LIST_DAMAGED, fault.file, fault=str(fault))


def _is_through(status: PieceStatus) -> bool:
    return status not in (PieceStatus.TO_WEIGH, PieceStatus.NEEDS_A_LOOK)


def batch_tables(batch: Batch, terms: Terms, apart: Sequence[Apart]) -> dict[str, bytes]:
    """Return every table by file name."""
    currency = terms.shop.policy.currency
    rows: dict[str, tuple[Sequence[str], list[list[tables.Cell]]]] = {
        "pieces.csv": (tables.PIECE_COLUMNS, [tables.piece_row(verdict, currency) for verdict in batch.verdicts]),
        "findings.csv": (tables.FINDING_COLUMNS, tables.finding_rows(batch, apart)),
        "declarations.csv": (tables.DECLARATION_COLUMNS, tables.declaration_rows(batch, terms)),
        "postage-list.csv": (postage_list.COLUMNS, postage_list.postage_rows(batch, terms)),
        "left-out.csv": (postage_list.LEFT_OUT_COLUMNS, postage_list.left_out_rows(batch)),
        "firm-sheet.csv": (firm_sheet.COLUMNS, firm_sheet.firm_sheet_rows(batch, terms)),
    }
    return {name: tables.table_bytes(columns, cells) for name, (columns, cells) in rows.items()}


def _papers(
    batch: Batch, terms: Terms, settings: PaperSettings, resources: Traversable
) -> tuple[dict[str, bytes], dict[str, object]]:
    """Make and proofread every paper: return the files by name, and for the summary their pages and failures."""
    files, pages, failed = {}, {}, []
    for made in make_all([PaperRequest(paper, batch, terms, None, settings) for paper in Paper], resources):
        name = made.paper.file_name
        files[name], pages[name] = made.pdf, made.pages
        failed += [{"paper": name, "piece": one.reference, "why": one.why} for one in made.failed]
        failed += [{"paper": name, "piece": "", "why": why} for why in made.faults]
    return files, {"pages": pages, "failed_proof": failed}


def _summary(
    sitting: Sitting, batch: Batch, terms: Terms, inputs: RunInputs, apart: Sequence[Apart]
) -> dict[str, object]:
    of_pieces = (issue for verdict in batch.verdicts for issue in tables.reported(verdict.findings))
    issues = [issue for issue in of_pieces if issue.code not in REPORTED_ONCE]
    issues += [*(one.found for one in batch.shared), *(issue for _, _, issue in apart)]
    charts = {verdict.offer.chart.chart: verdict.offer.chart for verdict in batch.verdicts if verdict.offer}
    return {
        "posting_date": sitting.on.isoformat(),
        "counts": {
            "orders": len({verdict.case.key.order for verdict in batch.verdicts}),
            "pieces": len(batch.verdicts),
            "stands": batch.counts(),
            "findings": {
                str(s): sum(issue.severity is s for issue in issues) for s in Severity if s is not Severity.FINE
            },
            "skipped": inputs.skipped,
        },
        "totals": {
            "currency": terms.shop.policy.currency,
            **_totals(batch.verdicts, zero(terms.shop.policy.currency)),
            "by_status": _by_status(batch, zero(terms.shop.policy.currency)),
        },
        "charts": [
            {
                "chart": chart.chart,
                "effective": chart.effective.isoformat(),
                "until": chart.until.isoformat() if chart.until else None,
                "source": chart.source,
            }
            for _, chart in sorted(charts.items())
        ],
        "changed": unreported(sitting),
    }


def _by_status(batch: Batch, nothing: Money) -> dict[str, dict[str, str]]:
    """Return the sums of the pieces with each status: what is ready, and what may not go yet."""
    groups: dict[str, list[Verdict]] = {}
    for verdict in batch.verdicts:
        groups.setdefault(str(verdict.status), []).append(verdict)
    return {status: _totals(verdicts, nothing) for status, verdicts in sorted(groups.items())}


def _totals(verdicts: Sequence[Verdict], nothing: Money) -> dict[str, str]:
    """Return the sum of each money column of pieces.csv: charged for every order, margin only with postage."""
    weighed = [verdict.money for verdict in verdicts if verdict.money is not None]
    priced = [verdict.money for verdict in verdicts if verdict.money is not None and verdict.offer is not None]
    columns = {
        "charged": [verdict.charged for verdict in verdicts],
        "postage": [money.postage for money in priced],
        "materials": [money.materials for money in weighed],
        "refund": [money.refund for money in priced],
        "overpaid": [money.overpaid for money in priced],
        "margin": [money.margin for money in priced],
    }
    return {name: sum(amounts, nothing).text() for name, amounts in columns.items()}


def _times(sitting: Sitting, started: datetime) -> dict[str, object]:
    finished = sitting.clock.now()
    return {
        "started": started.isoformat(timespec="seconds"),
        "finished": finished.isoformat(timespec="seconds"),
        "seconds": round((finished - started).total_seconds(), 3),
    }
