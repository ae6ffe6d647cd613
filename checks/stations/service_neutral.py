"""The service's neutral: where it is loose the legs part, one goes up and the other down."""

from typing import Final, NamedTuple

from checks.check import Situation
from checks.electrical.load_line import Circuit
from checks.electrical.supply import GROUND, LINE_TO_NEUTRAL_V, SYSTEMS, nominal_between_v
from checks.quantity import expanded, nominal
from checks.source import judgement
from checks.stations.circuit_facts import least_to_ground_v
from checks.stations.outlet.hidden import circuit
from checks.units import Number
from checks.verdict import Force, Limit, at_most

UNEQUAL_RATIO: Final = 0.05
UNEQUAL: Final = judgement("legs to neutral that differ by more than 5 % point to a bad neutral")
PARTED_V: Final = 2.0
PARTED: Final = judgement(
    "one leg that rises by more than 2 V while the other falls by more, as load comes on, points "
    "to a bad neutral at the service: with a sound one both fall"
)
WHY: Final = "A loose service neutral drives one leg up and the other down, and burns"
REMEDY: Final = (
    "Keep the charger off and call the utility at once; nobody works on the line side of the main, "
    "for it stays live"
)
LEGS: Final = (("l1_n", "L1"), ("l2_n", "L2"), ("l3_n", "L3"))


def difference_v(s: Situation) -> Number | None:
    """Return by how much the legs differ at the service, but for a high leg [V]."""
    system = SYSTEMS[s.visit.system]
    read = [
        s.measured(f"service.supply_voltage.{name}")
        for name, line in LEGS
        if line in system.lines
        and round(nominal_between_v(system, line, GROUND)) == LINE_TO_NEUTRAL_V
    ]
    legs = sorted((volts for volts in read if volts is not None), key=nominal)
    return legs[-1] - legs[0] if len(legs) > 1 else None


def difference_limit(s: Situation) -> Limit:
    """Return by how much the legs may differ."""
    volts = UNEQUAL_RATIO * least_to_ground_v(s)
    return at_most(volts, "V", Force.TRADE_JUDGEMENT, UNEQUAL, of="difference of the legs")


class Moved(NamedTuple):
    """How far each leg moved as load came on, up above zero [V]."""

    first_v: Number
    second_v: Number

    @property
    def is_apart(self) -> bool:
        """Whether one rose and the other fell, each beyond what meter and house explain."""
        low, high = sorted(self, key=nominal)
        return (
            nominal(high) - expanded(high) > PARTED_V and -nominal(low) - expanded(low) > PARTED_V
        )

    @property
    def words(self) -> str:
        """Say which leg rose and which fell."""
        up, down = ("L1", "L2") if nominal(self.first_v) > 0 else ("L2", "L1")
        low_v, rose_v = sorted(map(nominal, self))
        fell_v = -low_v
        return f"Under load {up} rose by {rose_v:.1f} V and {down} fell by {fell_v:.1f} V"


def moved(s: Situation) -> Moved | None:
    """Return how the legs moved in the load test, at the panel or else at the outlet.

    Only of a charger between two legs of one winding: it leaves the neutral alone, and so do its
    volts. On a wye its current leads one leg and lags the other, and may lift one of them.
    """
    if circuit(s) is not Circuit.SPLIT:
        return None
    for place in ("panel_", ""):
        legs = [_moved(s, f"outlet.loaded_voltage.{place}{leg}") for leg in ("l1", "l2")]
        first_v, second_v = legs
        if first_v is not None and second_v is not None:
            return Moved(first_v, second_v)
    return None


def _moved(s: Situation, leg: str) -> Number | None:
    still_v, loaded_v = s.measured(f"{leg}_no_load"), s.measured(f"{leg}_loaded")
    return None if still_v is None or loaded_v is None else loaded_v - still_v
