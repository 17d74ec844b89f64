"""A test bench for the settling machine, with hand-made traces at ten readings per second."""

from decimal import Decimal

from desk.scales.pan import SettledWeight
from desk.scales.reading import Reading, State, shown_reading
from desk.scales.settling import Settling, StepRule

D = Decimal
TENTH = StepRule(D("0.1"), "oz")


class Bench:
    """Feed a machine and collect its events. Values are in tenths of an ounce."""

    def __init__(self, rule=TENTH, rate=10):
        self.machine, self.now, self.rate, self.events = Settling(rule), 0.0, rate, []

    def feed(self, reading):
        got = self.machine.feed(self.now, reading)
        self.events += got
        self.now = round(self.now + 1 / self.rate, 6)
        return got

    def show(self, *tenths, state=State.STABLE, unit="oz"):
        return [event for tenth in tenths for event in self.feed(shown_reading(D(tenth) / 10, unit, state, b""))]

    def hold(self, tenths, seconds, state=State.STABLE, unit="oz"):
        return self.show(*[tenths] * round(seconds * self.rate), state=state, unit=unit)

    def say(self, state, times=1, value=None):
        return [event for _ in range(times) for event in self.feed(Reading(value, None, state))]

    def empty(self):
        self.hold(0, 0.5)
        return self

    @property
    def settled(self):
        return [event for event in self.events if isinstance(event, SettledWeight)]


def ready(**options):
    bench = Bench(**options).empty()
    bench.events.clear()
    return bench


def words(events):
    return [(event.how.value, event.value) for event in events if isinstance(event, SettledWeight)]
