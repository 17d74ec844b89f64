"""The pages name every file field there is, and only paths that exist."""

from __future__ import annotations

import re

import pytest

from desk.intake.columns.header_words import WEIGHT_WORDS
from desk.intake.order_headers.rules import ORDER_FIELDS
from desk.intake.shop.shop_form_file import MailerTable, PolicyTable, ProductTable, SenderTable, StampTable, TaxIdsTable
from tests.conftest import ROOT
from tests.house.test_words import pages

HEADLESS = (ROOT / "resources/handbook/headless.md").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "fields",
    [
        ORDER_FIELDS,
        WEIGHT_WORDS,
        *(
            table.model_fields
            for table in (SenderTable, PolicyTable, TaxIdsTable, MailerTable, ProductTable, StampTable)
        ),
    ],
)
def test_the_headless_page_names_every_field(fields):
    assert [name for name in fields if f"`{name}`" not in HEADLESS] == []


def paths(text: str) -> list[str]:
    """Return what looks like a path of this project between backquotes."""
    return re.findall(r"`((?:desk|tests|scripts|resources)/[\w./-]+)", text)


def test_every_path_on_a_page_exists():
    named = [(page, path) for page, text in pages() for path in paths(text)]
    assert len(named) > 40
    assert [(page, path) for page, path in named if not any(ROOT.glob(f"{path.rstrip('/')}*"))] == []
