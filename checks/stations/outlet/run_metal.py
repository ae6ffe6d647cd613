"""What metal and sound joints of the run explain: the yardstick of load test and loops."""

from typing import Final

from uncertainties import ufloat

from checks.check import Situation
from checks.codes.ampacity import column_ampacity_a
from checks.electrical.assumed_ohms import conductor_temp_c, explained_ohm, sound_joints_ohm
from checks.errors import ChecksError
from checks.quantity import SQRT_3
from checks.source import judgement
from checks.stations.circuit_facts import conductor, run_length_m
from checks.stations.outlet.where import is_receptacle
from checks.units import Number

TABLE_C: Final = 75
AIR_C, AIR_SPREAD_K = 20.0, 20.0
AIR: Final = judgement("air that was not measured is taken to have 0 to 40 °C")


def is_air_read(s: Situation) -> bool:
    """Return whether the air at the outlet was measured."""
    return s.measured("outlet.loaded_voltage.air") is not None


def metal_temp_c(s: Situation, current_a: Number) -> Number | None:
    """Return the temperature of the run's metal [°C]; nothing where its size is not known."""
    metal = conductor(s)
    if metal is None:
        return None
    air_c = s.measured("outlet.loaded_voltage.air")
    seconds = s.rating("outlet.loaded_voltage.minutes")
    try:
        ampacity_a = column_ampacity_a(s.code, *metal, TABLE_C)
    except ChecksError:  # a size outside the table
        return None
    return conductor_temp_c(
        ufloat(AIR_C, AIR_SPREAD_K / SQRT_3) if air_c is None else air_c,
        current_a,
        ampacity_a,
        None if seconds is None else seconds / 60,
    )


def metal_ohm(s: Situation, temp_c: Number | None) -> Number | None:
    """Return what the metal of both circuit conductors explains [Ω]; nothing while unknown."""
    return _ohm(s, conductor(s), temp_c)


def ground_metal_ohm(s: Situation, temp_c: Number | None) -> Number | None:
    """Return the metal of the grounding conductor, one way [Ω]; nothing where it is no wire."""
    size = s.choice("run.grounding_conductor.size")
    material = s.choice("run.grounding_conductor.material")
    if s.choice("run.grounding_conductor.kind") != "wire" or size is None or material is None:
        return None
    both_ohm = _ohm(s, (size, material), temp_c)
    return None if both_ohm is None else both_ohm / 2


def _ohm(s: Situation, metal: tuple[str, str] | None, temp_c: Number | None) -> Number | None:
    length_m = run_length_m(s)
    if metal is None or length_m is None or temp_c is None:
        return None
    try:
        return explained_ohm(*metal, length_m, temp_c)
    except ChecksError:  # a size outside the tables, metal hotter than the model goes
        return None


def sound_ohm(s: Situation) -> Number:
    """Return what sound joints between panel and outlet have: two terminals a conductor [Ω]."""
    return sound_joints_ohm(terminals=4, contacts=2 if is_receptacle(s) else 0)
