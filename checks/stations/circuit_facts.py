"""Facts of a circuit that several stations need, each derived from the entries in one place."""

from collections.abc import Mapping
from typing import Final, NamedTuple

from uncertainties import ufloat

from checks.check import Situation
from checks.codes.answer import Worked
from checks.codes.circuit import drop_current_a
from checks.electrical.supply import (
    SYSTEMS,
    highest_to_ground_v,
    nominal_between_v,
    serves_line_to_neutral,
)
from checks.quantity import SQRT_3, nominal
from checks.record import Occupancy
from checks.source import judgement
from checks.units import Number

LENGTH: Final = judgement(
    "a run length read off marks on the jacket is known within 2 %, off a plan within 10 %, an "
    "estimate within 20 %"
)
OUTDOORS: Final = ("outdoors", "rooftop")
SIGNAL_RATIO: Final = 0.05
SIGNAL_LEAST_A: Final = 1.0
SIGNAL: Final = judgement("5 %, at least 1 A, for the tolerance of the pilot signal and its tester")
LENGTH_RATIO: Final[Mapping[str, float]] = {"jacket marks": 0.02, "plan": 0.10, "estimated": 0.20}

BOTH: Final = 2
ALIKE_RATIO: Final = 0.2  # how far from its nominal volts a line is still known by them


def has_line_3(s: Situation) -> bool:
    """Return whether the supply has a third ungrounded conductor."""
    return "L3" in SYSTEMS[s.visit.system].lines


def nominal_v(s: Situation) -> float:
    """Return the nominal volts at the outlet of this charging point [V]."""
    return float(s.point.nominal_v)


def volts_to_ground_v(s: Situation) -> float:
    """Return the highest nominal volts to ground of what is judged: a circuit, a panel, a site [V].

    Which lines a circuit of two takes shows in the volts at its outlet; unread, any two.
    """
    most_v = float(round(highest_to_ground_v(SYSTEMS[s.visit.system], _lines(s))))
    if most_v == least_to_ground_v(s):
        return most_v
    read = (s.measured(f"outlet.no_load_voltage.{leg}_ground") for leg in ("l1", "l2"))
    legs = [leg for leg in read if leg is not None]
    lines_v = [leg_to_ground_v(s, leg) for leg in legs]
    is_read = len(legs) == BOTH and all(
        abs(nominal(leg) - volts) <= ALIKE_RATIO * volts
        for leg, volts in zip(legs, lines_v, strict=True)
    )
    return max(lines_v) if is_read else most_v


def leg_to_ground_v(s: Situation, leg: Number | None) -> float:
    """Return the nominal volts to ground of a line of this supply that reads so [V].

    Only a high leg differs: which lines a circuit takes shows in its own readings.
    """
    if leg is None:
        return least_to_ground_v(s)
    system = SYSTEMS[s.visit.system]
    each = (float(round(nominal_between_v(system, line))) for line in system.lines)
    return min(each, key=lambda volts: abs(volts - nominal(leg)))


def least_to_ground_v(s: Situation) -> float:
    """Return the least nominal volts to ground of the supply's lines [V]."""
    system = SYSTEMS[s.visit.system]
    return float(round(min(nominal_between_v(system, line) for line in system.lines)))


def _lines(s: Situation) -> tuple[str, ...]:
    """Return the lines that may be in what is judged."""
    system = SYSTEMS[s.visit.system]
    is_level_1 = any(p.id == s.subject and p.level == 1 for p in s.visit.points)
    return tuple(x for x in system.lines if not is_level_1 or serves_line_to_neutral(system, x))


def circuit_poles(s: Situation) -> int:
    """Return how many ungrounded conductors this charging point's circuit has."""
    return 1 if s.point.level == 1 else 2


def has_line_2(s: Situation) -> bool:
    """Return whether this charging point's circuit has a second ungrounded conductor."""
    return circuit_poles(s) > 1


def is_dwelling(s: Situation) -> bool:
    """Return whether the site is a dwelling."""
    return s.visit.site.occupancy is Occupancy.DWELLING


def location(s: Situation) -> str | None:
    """Return where the charging point is, as it was picked at its surroundings."""
    return s.choice("surroundings.place.location")


def charger_load_a(s: Situation) -> float | None:
    """Return the current that counts as this charger's load: configured, else rated [A].

    A setting above the nameplate is a finding of its own; the charger gives no more than that. A
    number of 0 counts as not read.
    """
    said = (
        s.rating("charger.configuration.configured_a"),
        s.rating("charger.nameplate.rated_a"),
    )
    return min((amps for amps in said if amps), default=None)


class ChargerLoads(NamedTuple):
    """The chargers' loads, as far as they are recorded.

    Parameters
    ----------
    known : list of (Situation, float)
        Each charging point whose charger's load is known, with it. [A]
    missing : str
        The words for those that are not recorded; empty where all are.
    """

    known: list[tuple[Situation, float]]
    missing: str


def charger_loads(s: Situation) -> ChargerLoads:
    """Return the charger's load of every charging point here, and whose is missing."""
    loads = [(here, charger_load_a(here)) for here in s.points]
    names = ", ".join(here.point.name for here, load_a in loads if load_a is None)
    known = [(here, load_a) for here, load_a in loads if load_a is not None]
    return ChargerLoads(known, f"Record the charger's current first: {names}" if names else "")


def is_setting_read(s: Situation) -> bool:
    """Return whether the charger's load is known as it is set: a nameplate says it at most."""
    return bool(s.rating("charger.configuration.configured_a"))


def breaker_a(s: Situation) -> float | None:
    """Return the rating of the branch-circuit breaker [A]."""
    return _real(s.rating("breaker.rating.rated_a"))


def _real(rated_a: float | None) -> float | None:
    """Return a rating, or nothing where it reads 0: no equipment is rated so."""
    return rated_a or None


def full_current(s: Situation) -> Worked | None:
    """Return the current at which the circuit is judged under load, with its working [A].

    The charger's load; where that is not known, what the code reckons a circuit's drop at.
    """
    load_a, rated_a = charger_load_a(s), breaker_a(s)
    if load_a is None and rated_a is None:
        return None
    return drop_current_a(s.code, rated_a, load_a)


def full_current_a(s: Situation) -> float | None:
    """Return the current at which the circuit is judged under load [A]."""
    found = full_current(s)
    return None if found is None else found.value


def signal_tolerance_a(amps: float) -> float:
    """Return how far an offered current may be read beside what was set. [A]."""
    return max(SIGNAL_LEAST_A, SIGNAL_RATIO * amps)


def conductor(s: Situation) -> tuple[str, str] | None:
    """Return size and material of the ungrounded conductors, or nothing while unknown."""
    size, material = s.choice("run.conductor.size"), s.choice("run.conductor.material")
    return None if size is None or material is None else (size, material)


def run_length_m(s: Situation) -> Number | None:
    """Return the length of the run, one way, with its uncertainty [m].

    A tape carries its own accuracy; every other way to know a length carries that of the way. A
    length of 0 counts as not read: no run is so short.
    """
    length_m, ratio = _stated_length_m(s)
    if length_m is None or nominal(length_m) <= 0:
        return None
    return length_m if ratio is None else length_m * ufloat(1.0, ratio / SQRT_3)


def is_length_zero(s: Situation) -> bool:
    """Return whether a length of 0 is recorded for the run."""
    length_m, _ = _stated_length_m(s)
    return length_m is not None and nominal(length_m) <= 0


def _stated_length_m(s: Situation) -> tuple[Number | None, float | None]:
    """Return the length as it is recorded [m], and how far the way it is known may be off."""
    ratio = LENGTH_RATIO.get(s.choice("run.length.basis") or "")
    length_m = s.measured("run.length.length")
    stated_m = None if ratio is None else s.rating("run.length.stated")
    return (length_m if stated_m is None else stated_m), ratio
