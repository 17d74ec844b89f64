"""The rules page: how this shop sends."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtWidgets import QVBoxLayout

from desk.domain.severity import Severity
from desk.domain.shop.shop import LetterPostage, ParcelPayment
from desk.session.setup import change_shop
from desk.session.setup.change_shop import FieldFault
from desk.session.setup.rule_conflicts import rule_conflicts
from desk.session.setup.shop_texts import currencies, parcel_services, policy_texts, services_abroad
from desk.session.words.figures import measure
from desk.ui.bridge import Desk
from desk.ui.kit.fields.choice_fields import ChoiceField, ManyField, YesNoField
from desk.ui.kit.fields.field import Field, FieldValue
from desk.ui.kit.fields.text_fields import LineField, WordsField
from desk.ui.kit.form import Form, Scrolled, keep
from desk.ui.setup.page import Page

TITLE = "Rules"
UNITS = (("", "as shown"), ("oz", "oz"), ("lb", "lb"), ("g", "g"), ("kg", "kg"), ("lb-oz", "lb and oz"))


class RulesPage(Page):
    """How letters and parcels are paid, which services are used, and what is added to each piece."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, TITLE)
        self.form = Form([*_paying(), *_services(desk), *_reading(), *_scale(), *_costs()])
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Scrolled(TITLE, self.form))
        self.form.left.connect(self._keep)
        self._seen = False

    def refresh(self) -> None:
        """Show the current settings."""
        self.form.show_values(policy_texts(self.shop.policy), fresh=not self._seen)
        self._seen = True
        self._show_conflicts()

    def _keep(self, name: str) -> None:
        keep(self.form, name, self._save)
        self._show_conflicts()

    def _show_conflicts(self) -> None:
        """Show at its field that a rule contradicts another."""
        for name, sentence in rule_conflicts(self.shop.policy, self.desk.pile.terms.rulebook.charts).items():
            self.form.fields[name].say(Severity.LOOK, sentence)

    def arrive(self) -> None:
        """Put the focus where work continues."""
        next(iter(self.form.fields.values())).setFocus()

    def _save(self, values: Mapping[str, FieldValue]) -> Sequence[FieldFault] | None:
        return self.desk.do(change_shop.save_policy, values)


def _paying() -> list[Field | str]:
    letters = tuple((word.value, word.value) for word in LetterPostage)
    parcels = ((ParcelPayment.ONLINE.value, "online"), (ParcelPayment.COUNTER.value, "at the counter"))
    return [
        "Payment",
        ChoiceField("letter_postage", "Letters are", letters),
        ChoiceField("parcel_payment", "Parcels are paid", parcels),
        LineField("max_stamps", "Most stamps on one package", hint="no limit"),
        LineField("untracked", "Allow untracked: always, asked, or up to an order value"),
        ChoiceField("currency", "Currency", [(code, code) for code in currencies()]),
        LineField("close_call_from", "Ask about close calls when prices differ by at least", hint=measure("0.50")),
        LineField("cover_from", "Ask about uninsured goods worth at least", hint=measure("100.00")),
        YesNoField("cautious", "Round up when close to a limit"),
    ]


def _services(desk: Desk) -> list[Field | str]:
    rulebook = desk.pile.terms.rulebook
    return [
        "Services you use",
        ManyField("parcel_services", "Domestic packages", parcel_services(rulebook)),
        ManyField("intl_services", "International", services_abroad(rulebook)),
    ]


def _reading() -> list[Field | str]:
    skip = WordsField("skip_status", "Skip orders with these statuses (comma-separated)")
    ship = WordsField("ship_status", "Ship orders with these statuses (comma-separated)")
    phrases = WordsField("stamp_request_phrases", "Words in a note that mean “please use stamps” (comma-separated)")
    skip.wide = ship.wide = phrases.wide = True
    return ["Reading orders", skip, ship, phrases]


def _scale() -> list[Field | str]:
    return [
        "The scale",
        LineField("scale_division", "Resolution", hint="smallest digit shown"),
        ChoiceField("scale_unit", "Unit of the resolution", UNITS),
        YesNoField("learn_weights", "Learn weights from past weighings"),
        YesNoField("scale_rounds_up", "Scale rounds up"),
    ]


def _costs() -> list[Field | str]:
    return [
        "Added to each piece",
        LineField("label_weight", "Weight of a label put on after weighing, such as 3 g"),
        LineField("label_cost", "Cost of a label"),
        LineField("insert_weight", "Weight of insert (card, tissue), such as 4 g"),
        LineField("insert_cost", "Cost of insert"),
    ]
