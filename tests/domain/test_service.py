"""Services: which letter is paid by the ounce with stamps, and which service takes no goods."""

import pytest

from desk.domain.service import PaidBy, PostedAs, Service


@pytest.mark.parametrize(
    ("posted_as", "paid_by", "abroad", "expected"),
    [
        (PostedAs.LETTER, PaidBy.STAMPS, False, True),
        (PostedAs.LETTER, PaidBy.STAMPS, True, False),
        (PostedAs.LETTER, PaidBy.METER, False, False),
        (PostedAs.FLAT, PaidBy.STAMPS, False, False),
    ],
)
def test_only_a_stamped_domestic_letter_pays_by_the_ounce(posted_as, paid_by, abroad, expected):
    service = Service(id="x", posted_as=posted_as, paid_by=paid_by, abroad=abroad)
    assert service.one_ounce_letter is expected


@pytest.mark.parametrize(("takes", "expected"), [("documents", True), ("media", False), ("", False)])
def test_a_service_for_documents_takes_no_goods(takes, expected):
    assert Service(id="x", takes=takes).documents_only is expected
