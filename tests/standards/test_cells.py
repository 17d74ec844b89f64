"""Every shipped cell compared with the published tables: their number, their sum in cents, and a digest.

Counts, sums and digests were worked out from other copies of the published lists (Notice 123, October 5, 2025 and July
12, 2026, with the holiday amounts announced for October 4, 2026), not from the files of this program: one wrong cent
changes both sum and digest.
"""

from __future__ import annotations

import hashlib
from decimal import Decimal

import pytest

from tests.rates.chart_folder import shipped

# chart, service, cells, sum of all prices in cents, digest
CELLS = [
    ("us-2025-10-05", "flat", 13, 4290, "aad5707018c8f52a"),
    ("us-2025-10-05", "ground-commercial", 675, 3953162, "63b45330316c7622"),
    ("us-2025-10-05", "ground-retail", 675, 4620675, "4e15ad1c6f9e6b9a"),
    ("us-2025-10-05", "letter-metered", 4, 470, "a9469d6828fcd4e3"),
    ("us-2025-10-05", "letter-stamped", 4, 486, "37a64369ea86587e"),
    ("us-2025-10-05", "media", 70, 212415, "0f2208e6b7042afa"),
    ("us-2025-10-05", "postcard", 1, 61, "a9dca456a4785b84"),
    ("us-2025-10-05", "priority-commercial", 639, 5571954, "43f8e50a0c12f8c2"),
    ("us-2025-10-05", "priority-flat-envelope-commercial", 1, 1040, "72479ca27a06bffc"),
    ("us-2025-10-05", "priority-flat-envelope-retail", 1, 1190, "f4a080c4aef5cef1"),
    ("us-2025-10-05", "priority-flat-large-box-commercial", 1, 2835, "6f712d3bfd99c6f9"),
    ("us-2025-10-05", "priority-flat-large-box-retail", 1, 3140, "82d588ef211e763a"),
    ("us-2025-10-05", "priority-flat-legal-commercial", 1, 1090, "084559caa8ffc700"),
    ("us-2025-10-05", "priority-flat-legal-retail", 1, 1210, "8fe388a30dd64828"),
    ("us-2025-10-05", "priority-flat-medium-box-commercial", 1, 1920, "c4c723407bf135b0"),
    ("us-2025-10-05", "priority-flat-medium-box-retail", 1, 2195, "1987a7a8ea1853f0"),
    ("us-2025-10-05", "priority-flat-padded-commercial", 1, 1120, "8c3809284f9cd134"),
    ("us-2025-10-05", "priority-flat-padded-retail", 1, 1285, "8597c3aa94ac559b"),
    ("us-2025-10-05", "priority-flat-small-box-commercial", 1, 1130, "cddc1607bd74e0c1"),
    ("us-2025-10-05", "priority-flat-small-box-retail", 1, 1260, "4784d378d07f1589"),
    ("us-2025-10-05", "priority-retail", 630, 6366675, "dafc311db1f45683"),
    ("us-2026-07-12", "flat", 13, 4477, "00f1e7c89313a7d5"),
    ("us-2026-07-12", "intl-flat", 90, 83355, "9b422862d800e742"),
    ("us-2026-07-12", "intl-letter", 36, 13630, "7fc2059a5e6de15f"),
    ("us-2026-07-12", "intl-package", 100, 431460, "59b591d10d89398a"),
    ("us-2026-07-12", "intl-priority-flat-envelope", 8, 40395, "b4dfd44e33541b93"),
    ("us-2026-07-12", "intl-priority-flat-large-box", 8, 94505, "8dcf13aecd7cb3dd"),
    ("us-2026-07-12", "intl-priority-flat-medium-box", 8, 78650, "8972786a37818f53"),
    ("us-2026-07-12", "intl-priority-flat-small-box", 8, 41735, "896f8b32503fa41f"),
    ("us-2026-07-12", "letter-metered", 4, 486, "37a64369ea86587e"),
    ("us-2026-07-12", "letter-stamped", 4, 502, "34365ad09c5888c2"),
    ("us-2026-07-12", "postcard", 1, 65, "555732a90bc825df"),
    ("us-2026-07-12", "ground-commercial", 666, 4125118, "7a36a297b7393e63"),
    ("us-2026-07-12", "ground-cubic-commercial", 90, 123048, "d69463a2af73af89"),
    ("us-2026-07-12", "ground-retail", 666, 4852290, "979cbf1189b7aa13"),
    ("us-2026-07-12", "intl-priority", 1342, 34891340, "f703d5c97a0d5ada"),
    ("us-2026-07-12", "library", 70, 198245, "5c8ef6a96710d0a6"),
    ("us-2026-07-12", "media", 70, 208678, "5317b12abc5217f5"),
    ("us-2026-07-12", "priority-commercial", 180, 605683, "e0f290e3ca57ba2a"),
    ("us-2026-07-12", "priority-flat-envelope-retail", 1, 1290, "1056ffe6bc0b306a"),
    ("us-2026-07-12", "priority-flat-large-box-commercial", 1, 3100, "9adff66bd4d2037a"),
    ("us-2026-07-12", "priority-flat-large-box-military-retail", 1, 3255, "974dff9b398901da"),
    ("us-2026-07-12", "priority-flat-large-box-retail", 1, 3400, "3f9d660b6d2bff0f"),
    ("us-2026-07-12", "priority-flat-legal-retail", 1, 1325, "a11ab1ad5afd67e8"),
    ("us-2026-07-12", "priority-flat-medium-box-commercial", 1, 2117, "1005d043223def39"),
    ("us-2026-07-12", "priority-flat-medium-box-retail", 1, 2480, "f5bbc47ea3ac0d64"),
    ("us-2026-07-12", "priority-flat-padded-commercial", 1, 1199, "702f6c7223cf7b9c"),
    ("us-2026-07-12", "priority-flat-padded-retail", 1, 1400, "611bd0ed8ee399e9"),
    ("us-2026-07-12", "priority-flat-small-box-retail", 1, 1365, "101a6c2a480e3fc7"),
    ("us-2026-07-12", "priority-retail", 630, 6873550, "9f9d2b307c0f5825"),
    ("us-2026-10-04", "ground-commercial", 261, 563392, "97e113a1ff3431d4"),
    ("us-2026-10-04", "ground-retail", 261, 814150, "5bd9d06c6657a2aa"),
    ("us-2026-10-04", "priority-commercial", 180, 638833, "1490b902ff53b7a9"),
]


def cells_of(chart, service):
    """Return `(upper weight, key) -> cents` of one list, with the weight in ounces."""
    listed = next(each for each in shipped().lists[service] if each.chart == chart)
    cells = {
        (f"{Decimal(row.max_label).normalize():f}", key): row.price.minor
        for key, rows in listed.rows.items()
        for row in rows
    }
    cells |= {(tier.label, key): tier.price.minor for key, tiers in listed.tiers.items() for tier in tiers}
    return cells | {("oversized", key): price.minor for key, price in listed.oversized.items()}


@pytest.mark.parametrize(("chart", "service", "count", "total", "digest"), CELLS)
def test_every_price_equals_the_published_one(chart, service, count, total, digest):
    cells = cells_of(chart, service)
    written = ";".join(f"{weight}|{key}|{cents}" for (weight, key), cents in sorted(cells.items()))
    assert (len(cells), sum(cells.values())) == (count, total)
    assert hashlib.sha256(written.encode()).hexdigest()[:16] == digest


def test_every_shipped_list_was_compared():
    held = {(each.chart, service) for service, lists in shipped().lists.items() for each in lists}
    assert held == {row[:2] for row in CELLS}
