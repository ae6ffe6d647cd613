"""What a load test tells: resistance that neither metal nor sound joints explain, and where."""

from dataclasses import replace
from typing import Final, NamedTuple

from uncertainties import ufloat

from checks.check import Situation
from checks.electrical.assumed_ohms import METAL, SOUND, SUPPLY, WARMTH
from checks.electrical.joint import JOINT_W, REACTANCE, Joint, find_joint
from checks.electrical.load_fit import load_line
from checks.electrical.load_line import Between, Circuit, LoadLine, LoadReading, Place
from checks.electrical.supply_walk import MOVEMENT
from checks.errors import OutOfRangeError
from checks.quantity import SQRT_3, expanded, nominal
from checks.source import Source
from checks.stations.circuit_facts import conductor, full_current_a, run_length_m
from checks.stations.outlet.loops import loop_holder
from checks.stations.outlet.run_metal import AIR, is_air_read, metal_ohm, metal_temp_c, sound_ohm
from checks.units import Number

FIRST_A: Final = "outlet.loaded_voltage.current"
AGAIN_A: Final = "outlet.loaded_voltage.current_again"
SECOND_A: Final = "outlet.loaded_voltage.second_current"


class Read(NamedTuple):
    """One voltage of the load test: its input, what it is, and the input of its current."""

    volts: str
    place: Place
    between: Between
    current: str = ""


# In the order in which they are read.
READS: Final = (
    Read("outlet.loaded_voltage.outlet_no_load", Place.OUTLET, Between.BOTH),
    Read("outlet.loaded_voltage.l1_no_load", Place.OUTLET, Between.FIRST),
    Read("outlet.loaded_voltage.l2_no_load", Place.OUTLET, Between.SECOND),
    Read("outlet.loaded_voltage.panel_no_load", Place.PANEL, Between.BOTH),
    Read("outlet.loaded_voltage.panel_l1_no_load", Place.PANEL, Between.FIRST),
    Read("outlet.loaded_voltage.panel_l2_no_load", Place.PANEL, Between.SECOND),
    Read("outlet.loaded_voltage.outlet_loaded", Place.OUTLET, Between.BOTH, FIRST_A),
    Read("outlet.loaded_voltage.l1_loaded", Place.OUTLET, Between.FIRST, FIRST_A),
    Read("outlet.loaded_voltage.l2_loaded", Place.OUTLET, Between.SECOND, FIRST_A),
    Read("outlet.loaded_voltage.panel_loaded", Place.PANEL, Between.BOTH, FIRST_A),
    Read("outlet.loaded_voltage.panel_l1_loaded", Place.PANEL, Between.FIRST, FIRST_A),
    Read("outlet.loaded_voltage.panel_l2_loaded", Place.PANEL, Between.SECOND, FIRST_A),
    Read("outlet.loaded_voltage.outlet_again", Place.OUTLET, Between.BOTH, AGAIN_A),
    Read("outlet.loaded_voltage.second_outlet", Place.OUTLET, Between.BOTH, SECOND_A),
    Read("outlet.loaded_voltage.second_l1", Place.OUTLET, Between.FIRST, SECOND_A),
    Read("outlet.loaded_voltage.second_l2", Place.OUTLET, Between.SECOND, SECOND_A),
    Read("outlet.loaded_voltage.second_panel", Place.PANEL, Between.BOTH, SECOND_A),
    Read("outlet.loaded_voltage.second_panel_l1", Place.PANEL, Between.FIRST, SECOND_A),
    Read("outlet.loaded_voltage.second_panel_l2", Place.PANEL, Between.SECOND, SECOND_A),
)


def circuit(s: Situation) -> Circuit:
    """Return what the load of this point hangs between."""
    if s.point.level == 1:
        return Circuit.SINGLE
    return Circuit.WYE if s.visit.system.is_wye else Circuit.SPLIT


def _reading(s: Situation, read: Read) -> LoadReading | None:
    volts_v, at_s = s.measured(read.volts), s.taken_s(read.volts)
    if volts_v is None or at_s is None:
        return None
    if not read.current:
        return LoadReading(read.place, read.between, at_s, volts_v)
    current_a = _current_a(s, read.current, at_s)
    if current_a is None or nominal(current_a) <= 0:
        return None
    return LoadReading(read.place, read.between, at_s, volts_v, current_a)


def _current_a(s: Situation, name: str, at_s: float) -> Number | None:
    """Return the current at a time, or nothing. [A].

    Between two readings that differ it lies on the line that joins them, and may be either: a
    vehicle throttles by steps as well.
    """
    first_a, again_a = s.measured(FIRST_A), s.measured(AGAIN_A)
    if name == SECOND_A or first_a is None or again_a is None:
        return s.measured(name) if name == SECOND_A else first_a
    start_s, end_s = s.taken_s(FIRST_A) or 0.0, s.taken_s(AGAIN_A) or 0.0
    if name == AGAIN_A or not start_s < at_s < end_s or not _differ(first_a, again_a):
        return again_a if name == AGAIN_A else first_a
    share, half_a = (at_s - start_s) / (end_s - start_s), nominal(again_a - first_a) / 2
    return first_a * (1 - share) + again_a * share + ufloat(0.0, abs(half_a) / SQRT_3)


def _differ(one: Number | None, other: Number | None) -> bool:
    if one is None or other is None:
        return False
    return abs(nominal(other - one)) > max(expanded(other - one), 1e-9)


def _readings(s: Situation) -> list[LoadReading]:
    return [r for r in (_reading(s, read) for read in READS) if r is not None]


def is_complete(s: Situation) -> bool:
    """Return whether volts between the loaded conductors were read without and with load."""
    both = [r for r in _readings(s) if r.between is Between.BOTH]
    has_still = any(not r.is_loaded for r in both)
    return has_still and any(r.is_loaded and r.place is Place.OUTLET for r in both)


def load_test(s: Situation) -> LoadLine | None:
    """Return the resistances that the load test gives; nothing where it gives none."""
    if not is_complete(s):
        return None
    try:
        line = load_line(circuit(s), _readings(s))
    except OutOfRangeError:  # the readings contradict each other
        return None
    if _differ(s.measured(FIRST_A), s.measured(AGAIN_A)):
        return replace(line, tapered=True)  # however far: it was meant to be one step of load
    return line


def joint(s: Situation, line: LoadLine | None) -> Joint | None:
    """Return what the load test says of hidden joints; nothing while test or run is unknown.

    Where its volts name no conductor, a loop test may.
    """
    if line is None:
        return None
    explained_ohm, length_m = metal_ohm(s, metal_temp_c(s, line.current_a)), run_length_m(s)
    if explained_ohm is None or length_m is None:
        return None
    found = find_joint(line, explained_ohm, sound_ohm(s), length_m=nominal(length_m))
    by_loops = loop_holder(s)
    if found.leg or not found.is_sure or by_loops not in line.circuit.conductors:
        return found
    return replace(found, leg=by_loops)


def rules_out_heat(s: Situation, found: Joint) -> bool:
    """Return whether a load test leaves no room for a joint that burns at full current."""
    full_a = full_current_a(s)
    if full_a is None or found.line.supply is None:
        return False
    return found.is_plausible and found.most_heat_w(full_a) < JOINT_W


def mohm(ohm: Number) -> str:
    """Return milliohms with their interval, in words."""
    return f"{1000 * nominal(ohm):.0f} ± {1000 * expanded(ohm):.0f} mΩ"


def watts(power_w: Number) -> str:
    """Return watts with their interval, in words."""
    return f"{nominal(power_w):.0f} ± {expanded(power_w):.0f} W"


def working(s: Situation, found: Joint, full_a: float) -> tuple[str, ...]:
    """Return how the hidden resistance was found, line by line."""
    size, material = conductor(s) or ("", "")
    length_m, temp_c = run_length_m(s) or 0.0, metal_temp_c(s, found.line.current_a) or 0.0
    asked = () if found.most_heat_w(full_a) < JOINT_W else found.next_readings(full_a)
    return (
        f"supply up to the panel: {mohm(found.supply_ohm)}"
        + ("" if found.line.supply is not None else ", not measured"),
        f"from there to the outlet: {mohm(found.branch_ohm)}",
        f"{nominal(length_m):.4g} ± {expanded(length_m):.2g} m of {size} {material} at "
        f"{nominal(temp_c):.0f} ± {expanded(temp_c):.0f} °C, out and back: {mohm(found.metal_ohm)}",
        f"not explained by the metal: {mohm(found.excess_ohm)}",
        *_legs_working(found),
        f"sound joints: {mohm(found.sound_ohm)}",
        f"left for a hidden joint: {mohm(found.hidden_ohm)}",
        f"its heat: {watts(found.test_heat_w())} at {nominal(found.line.current_a):.1f} A, "
        f"{watts(found.full_heat_w(full_a))} at {full_a:g} A",
        *notes(found.line),
        "joints in series share it: these readings do not tell them apart",
        *(f"would tell more: {each}" for each in asked),
        *(f"taken: {each}" for each in _taken(s, found)),
    )


def _legs_working(found: Joint) -> tuple[str, ...]:
    if found.legs_ohm is None:
        return ()
    names = found.line.circuit.conductors
    each = (f"{n} {mohm(x)}" for n, x in zip(names, found.legs_ohm, strict=True))
    return (f"not explained by the metal, of each conductor: {', '.join(each)}",)


def notes(line: LoadLine) -> tuple[str, ...]:
    """Return what disturbed the test and was taken into account."""
    said = []
    if line.moved:
        said.append("The supply moved between the readings: the intervals are wider for it")
    if line.tapered:
        said.append("The current changed during the test: each voltage counts at its own current")
    return tuple(said)


def _taken(s: Situation, found: Joint) -> tuple[Source, ...]:
    """Return the judgements that the hidden resistance rests on."""
    legs = found.legs_ohm is not None
    is_on = {
        MOVEMENT: True,
        WARMTH: True,
        METAL: True,
        SOUND: True,
        AIR: not is_air_read(s),
        SUPPLY: found.line.supply is None or (legs and found.line.supply.legs_ohm is None),
        REACTANCE: legs and found.line.circuit is Circuit.WYE,
    }
    return tuple(source for source, on in is_on.items() if on)
