"""The policy page: how this shop sends."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtWidgets import QVBoxLayout

from desk.domain.shop import LetterPostage, ParcelPayment
from desk.session.setup import change_shop
from desk.session.setup.change_shop import FieldFault
from desk.session.setup.shop_texts import currencies, parcel_services, policy_texts, services_abroad
from desk.ui.bridge import Desk
from desk.ui.kit.field import ChoiceField, Field, LineField, ManyField, WordsField, YesNoField
from desk.ui.kit.form import Form, Scrolled, keep
from desk.ui.setup.page import Page, say

TITLE = "Rules"
UNITS = (("", "as shown"), ("oz", "oz"), ("lb", "lb"), ("g", "g"), ("kg", "kg"), ("lb-oz", "lb and oz"))


class PolicyPage(Page):
    """How letters and parcels are paid, which services come into question, and what is added to each piece."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, TITLE)
        self.form = Form([*_paying(), *_services(desk), *_reading(), *_scale(), *_costs()])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Scrolled(TITLE, self.form))
        self.form.left.connect(lambda name: keep(self.form, name, self._save))
        self._seen = False

    def refresh(self) -> None:
        """Show what is so now."""
        self.form.show_values(policy_texts(self.shop.policy), fresh=not self._seen)
        self._seen = True

    def arrive(self) -> None:
        """Put the focus where work goes on."""
        next(iter(self.form.fields.values())).setFocus()

    def _save(self, values: Mapping[str, Any]) -> Sequence[FieldFault] | None:
        return self.desk.do(change_shop.save_policy, values)


def _paying() -> list[Field | str]:
    letters = tuple((word.value, word.value) for word in LetterPostage)
    parcels = ((ParcelPayment.ONLINE.value, say("online")), (ParcelPayment.COUNTER.value, say("at the counter")))
    return [
        say("Payment"),
        ChoiceField("letter_postage", say("Letters are"), letters),
        ChoiceField("parcel_payment", say("Parcels are paid"), parcels),
        LineField("max_stamps", say("Most stamps on one package"), hint=say("no limit")),
        LineField("untracked", say("Allow untracked: always, asked, or up to an order value")),
        ChoiceField("currency", say("Currency"), [(code, code) for code in currencies()]),
        LineField("close_call_from", say("Ask about close calls that differ by at least"), hint="0.50"),
        LineField("cover_from", say("Ask about goods without cover from"), hint="100.00"),
        YesNoField("cautious", say("Round up when close to a limit")),
    ]


def _services(desk: Desk) -> list[Field | str]:
    rulebook = desk.pile.terms.rulebook
    return [
        say("Services you use"),
        ManyField("parcel_services", say("Domestic packages"), parcel_services(rulebook)),
        ManyField("intl_services", say("International"), services_abroad(rulebook)),
    ]


def _reading() -> list[Field | str]:
    skip = WordsField("skip_status", say("Skip orders with these statuses (comma-separated)"))
    ship = WordsField("ship_status", say("Ship orders with these statuses (comma-separated)"))
    phrases = WordsField(
        "stamp_request_phrases", say("Words in a note that mean “please use stamps” (comma-separated)")
    )
    skip.wide = ship.wide = phrases.wide = True
    return [say("Reading orders"), skip, ship, phrases]


def _scale() -> list[Field | str]:
    return [
        say("The scale"),
        LineField("scale_division", say("Its step"), hint=say("smallest digit shown")),
        ChoiceField("scale_unit", say("Unit of the resolution"), UNITS),
        YesNoField("learn_weights", say("Learn from past weighings what things weigh")),
        YesNoField("scale_rounds_up", say("Scale rounds up")),
    ]


def _costs() -> list[Field | str]:
    return [
        say("Added to each piece"),
        LineField("label_weight", say("Weight of a label put on after weighing, such as 3 g")),
        LineField("label_cost", say("Cost of a label")),
        LineField("insert_weight", say("Weight of insert (card, tissue), such as 4 g")),
        LineField("insert_cost", say("Cost of insert")),
    ]
