"""The pieces of the demo under a shop's own rules."""

from dataclasses import replace

from desk.domain.places.address import Address
from desk.session.importing.demo_pieces import demo_verdicts
from desk.session.verdict.verdict import Terms
from tests.conftest import ROOT
from tests.session.made import ON, policy, shop


def test_the_demo_is_judged_by_the_rules_and_the_zip_code_of_the_shop(rulebook):
    own = Terms(shop(policy=policy(parcel_services=("ground-commercial",))), rulebook, ON)
    verdicts, terms = demo_verdicts(ROOT / "resources", own)
    services = {verdict.offer.service for verdict in verdicts if verdict.offer}
    assert "ground-commercial" in services
    assert "ground-retail" not in services
    assert (terms.shop.sender, terms.shop.policy) == (own.shop.sender, own.shop.policy)
    assert len(verdicts) > 50


def test_a_shop_without_a_zip_code_mails_from_that_of_the_demo(rulebook):
    own = Terms(replace(shop(), sender=Address()), rulebook, ON)
    assert demo_verdicts(ROOT / "resources", own)[1].shop.sender.postal_code == "55802"
