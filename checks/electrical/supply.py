"""Supply systems: the voltages between their conductors, and what a charger draws from them."""

from cmath import rect
from collections.abc import Mapping
from math import radians
from typing import Final, NamedTuple

from checks.errors import OutOfTableError


class Phasor(NamedTuple):
    """Voltage of a conductor to ground: size [V] and angle [°]."""

    size_v: float
    angle_deg: float


class System(NamedTuple):
    """A supply system: its ungrounded conductors to ground, and whether it has a neutral."""

    name: str
    lines: Mapping[str, Phasor]
    has_neutral: bool


HIGH_LEG_V: Final = 120.0 * 3**0.5  # from the midpoint of one side to the opposite corner
WYE_ANGLES: Final = (0.0, -120.0, 120.0)


def _wye(name: str, line_v: float) -> System:
    to_ground_v = line_v / 3**0.5
    angles = zip(("L1", "L2", "L3"), WYE_ANGLES, strict=True)
    return System(name, {line: Phasor(to_ground_v, angle) for line, angle in angles}, True)


SPLIT_PHASE: Final = System(
    "120/240 V single-phase", {"L1": Phasor(120.0, 0.0), "L2": Phasor(120.0, 180.0)}, True
)
WYE_208: Final = _wye("208Y/120 V three-phase", 208.0)
TWO_OF_WYE: Final = System(
    "120/208 V single-phase", {line: WYE_208.lines[line] for line in ("L1", "L2")}, True
)
WYE_480: Final = _wye("480Y/277 V three-phase", 480.0)
# The middle line is the high leg by the code's rule on its marking; the neutral is the midpoint of
# the side between the two others.
HIGH_LEG_DELTA: Final = System(
    "240/120 V high-leg delta",
    {"L1": Phasor(120.0, 0.0), "L2": Phasor(HIGH_LEG_V, 90.0), "L3": Phasor(120.0, 180.0)},
    True,
)
CORNER_GROUNDED_DELTA: Final = System(
    "240 V three-phase delta, corner grounded",
    {"L1": Phasor(240.0, 0.0), "L2": Phasor(0.0, 0.0), "L3": Phasor(240.0, 60.0)},
    False,
)
SYSTEMS: Final[Mapping[str, System]] = {
    each.name: each
    for each in (SPLIT_PHASE, WYE_208, TWO_OF_WYE, WYE_480, HIGH_LEG_DELTA, CORNER_GROUNDED_DELTA)
}
GROUND: Final = "ground"
LINE_TO_NEUTRAL_V: Final = 120


def nominal_between_v(system: System, first: str, second: str = GROUND) -> float:
    """Nominal voltage between two conductors, or from one to ground.

    Parameters
    ----------
    system : System
        The supply system. [-]
    first : str
        A line, such as ``"L1"``. [-]
    second : str
        Another line, or ``"ground"``, which the neutral shares. [-]

    Returns
    -------
    float
        Voltage. [V]

    Raises
    ------
    OutOfTableError
        The system has no such conductor.

    References
    ----------
    Circuit theory: difference of two phasors.

    Examples
    --------
    >>> round(nominal_between_v(HIGH_LEG_DELTA, "L2"))
    208
    """
    return abs(_complex_v(system, first) - _complex_v(system, second))


def serves_line_to_neutral(system: System, line: str) -> bool:
    """Whether a 120 V load may stand between this line and the neutral.

    Parameters
    ----------
    system : System
        The supply system. [-]
    line : str
        The line, such as ``"L2"``. [-]

    Returns
    -------
    bool
        False on the high leg of a delta, on a 277 V line, and without a neutral. [-]

    References
    ----------
    Circuit theory; the high leg of a 240/120 V delta stands 208 V from the neutral.

    Examples
    --------
    >>> serves_line_to_neutral(HIGH_LEG_DELTA, "L2")
    False
    """
    return system.has_neutral and round(nominal_between_v(system, line)) == LINE_TO_NEUTRAL_V


def highest_to_ground_v(system: System, lines: tuple[str, ...] = ()) -> float:
    """Highest nominal voltage to ground of the lines that a circuit uses.

    Parameters
    ----------
    system : System
        The supply system. [-]
    lines : tuple of str
        The circuit's lines; without any, all of the system. [-]

    Returns
    -------
    float
        Voltage. [V]

    References
    ----------
    Circuit theory; what rules on 150 V to ground ask for.

    Examples
    --------
    >>> round(highest_to_ground_v(SPLIT_PHASE))
    120
    """
    return max(nominal_between_v(system, line) for line in lines or tuple(system.lines))


def line_currents_a(
    system: System, loads_a: Mapping[tuple[str, str], float]
) -> Mapping[str, float]:
    """Add single-phase loads between lines to the current in each line, at unity power factor.

    Chargers between different pairs of lines of a three-phase system do not add as plain numbers.

    Parameters
    ----------
    system : System
        The supply system. [-]
    loads_a : Mapping
        Pair of conductors, such as ``("L1", "L2")`` or ``("L1", "ground")``, then current. [A]

    Returns
    -------
    Mapping
        Line, then current. [A]

    Raises
    ------
    OutOfTableError
        The system has no such conductor.

    References
    ----------
    Kirchhoff's current law with phasors.

    Examples
    --------
    Three equal chargers between the three pairs load each line √3 times:

    >>> pairs = {("L1", "L2"): 30.0, ("L2", "L3"): 30.0, ("L3", "L1"): 30.0}
    >>> round(line_currents_a(WYE_208, pairs)["L1"], 2)
    51.96
    """
    found = dict.fromkeys(system.lines, 0j)
    for (first, second), amps in loads_a.items():
        across_v = _complex_v(system, first) - _complex_v(system, second)
        current = amps * across_v / abs(across_v)
        if first in found:
            found[first] += current
        if second in found:
            found[second] -= current
    return {line: abs(current) for line, current in found.items()}


def _complex_v(system: System, conductor: str) -> complex:
    if conductor == GROUND:
        return 0j
    if conductor not in system.lines:
        raise OutOfTableError(
            f"{system.name} has no conductor {conductor!r}",
            where="Supply, conductor",
            remedy="Use " + ", ".join(system.lines) + " or " + GROUND,
        )
    size_v, angle_deg = system.lines[conductor]
    return rect(size_v, radians(angle_deg))
