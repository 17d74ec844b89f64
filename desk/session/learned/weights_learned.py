"""Learned weights next to typed ones, as Setup shows them."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from desk.domain.shop.product import Product
from desk.domain.weight import Weight, WeightUnit
from desk.learning.learner import Learned
from desk.learning.parameters import Parameters
from desk.session.learned.memory import Memory
from desk.session.words.contents_weight import learned_words
from desk.session.words.figures import counted

PRODUCT = "Learned"
FEWEST = 3  # weighings before a weight is shown
TENTH = Decimal("0.1")


@dataclass(frozen=True, slots=True)
class LearnedWeight:
    """The learned weight of one product or mailer, in words; `weight` can replace the typed one."""

    words: str
    weight: Weight
    differs: bool = False
    can_be_used: bool = False


def learned_product(memory: Memory, product: Product, unit: WeightUnit | None) -> LearnedWeight | None:
    """Return the learned weight of one product; None before it was weighed three times."""
    key = product.sku or product.name
    learned = memory.learner.product(key)
    return _learned(memory, key, learned, product.unit_weight, unit, PRODUCT)


def learned_mailer(memory: Memory, name: str, unit: WeightUnit | None) -> LearnedWeight | None:
    """Return the learned weight of a mailer with its usual packing; None before it was weighed three times."""
    return _learned(memory, name, memory.learner.mailer(name), None, unit, "Learned, with usual packing")


def _learned(
    memory: Memory, key: str, learned: Learned | None, typed: Weight | None, unit: WeightUnit | None, head: str
) -> LearnedWeight | None:
    if learned is None or learned.weighings < FEWEST:
        return None
    reach = Weight(Decimal(learned.high_g - learned.grams))
    differs = typed is not None and not learned.low_g <= typed.grams <= learned.high_g
    figures = learned_words(Weight(Decimal(learned.grams)), reach, unit)
    words = f"{head}: {figures}, from {counted(learned.weighings, 'weighing')}."
    if differs:
        words += " The typed weight is off."
    if memory.learner.rests(key):
        words += f" Not packed lately: only the {Parameters().most_active} most recently used products are tracked."
    changed = [change for change in memory.learner.changes if change.name == key]
    if changed:
        direction = "more" if changed[-1].grams > 0 else "less"
        words += f" It seems to weigh {direction} than it used to."
    weight = Weight(Decimal(learned.grams).quantize(TENTH, ROUND_HALF_UP))
    return LearnedWeight(words, weight, differs, can_be_used=head == PRODUCT and (differs or typed is None))
