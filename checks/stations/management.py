"""Load management of a group: listed, marked, its setting, and what its sensors see."""

from functools import partial
from itertools import combinations
from typing import Final

from checks.check import (
    EVERY,
    Caution,
    Check,
    CircuitState,
    Measurement,
    Rating,
    Situation,
    Words,
    YesNo,
    compare,
    everywhere,
    known_part,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.electrical.supply import SYSTEMS
from checks.quantity import nominal
from checks.record import InstrumentKind
from checks.source import judgement
from checks.stations import management_load
from checks.stations.circuit_facts import has_line_3
from checks.stations.group import Group
from checks.stations.observing import Sign, signs_of
from checks.units import Dimension, Number
from checks.verdict import Force, Judgement, Limit, Severity, at_least, at_most

SIGNS: Final = (
    Sign(
        YesNo("is_listed", "System is listed", good=True),
        "listed use",
        "The load management carries no listing mark",
        "The circuit is only large enough as long as the system holds its limit",
        "Keep the chargers off, or each at a current that fits without it; install a listed one",
        Severity.WARNING,
    ),
    Sign(
        YesNo("is_restricted", "Setting is restricted", good=True),
        "adjusted rating",
        "Anyone can change the limit",
        "Set higher by anyone, it overloads the feeder",
        "Have the setting locked, or behind a tool or the installer's password",
        Severity.WARNING,
    ),
    Sign(
        YesNo("is_marked", "Limit marked at the supply", good=True),
        "adjusted rating",
        "The supply equipment does not show the managed limit and its date",
        "The next one to add a load reckons with what is marked",
        "Mark source, limit and date durably at the supply equipment",
        Severity.CAUTION,
    ),
)
OVER: Final = "More than this for hours heats breaker and conductors, and trips them at night"
LOWER: Final = "Stop charging; have the limit set to the lowest of these, by who may change it"


def _setting(group: Group, s: Situation) -> Judgement:
    permitted, set_a = group.permitted(s), group.set_a(s)
    counted_a = s.rating(f"{group.place}.load.managed_a")
    limits = [] if permitted is None else [permitted]
    if counted_a:
        source = s.code.load.managed_ratio.source
        of = "as counted in the room"
        limits.append(at_most(counted_a, "A", Force.CODE_RULE, source, of=of))
    words = "Still open: the limit it is set to, and the device ahead"
    if set_a is None or not limits:
        return not_measured(words, limits)
    judged = compare(
        set_a,
        "A",
        limits,
        explanation=f"Set to hold {set_a:g} A",
        why=OVER,
        remedy=LOWER,
        severity=Severity.WARNING,
        of="limit as set",
        working=() if permitted is None else permitted.working,
    )
    return known_part(judged, words if permitted is None else "")


def _judge_record(group: Group, s: Situation) -> Judgement:
    return together((*signs_of(s, group.check, SIGNS), _setting(group, s)))


# Wide enough for clamp and sensor: a wrong line, direction or ratio is off by far more.
SENSOR_PCT: Final = 10.0
SENSOR: Final = judgement("a sensor shows within 10 % of what a clamp on the same line reads")
TELLS_A: Final = 5.0
TELLS: Final = judgement("under 5 A neither direction nor ratio of a sensor shows")
LINES: Final = ("1", "2", "3")
FIX: Final = (
    "End the charge; with the panel dead and proved, have the sensors put on their lines, the "
    "right way round, and their ratio set"
)


def _sensor_limits() -> tuple[Limit, ...]:
    """Return how much of what the clamp reads the system may show."""
    force, of = Force.TRADE_JUDGEMENT, "shown of what the clamp reads"
    return (
        at_least(100.0 - SENSOR_PCT, "%", force, SENSOR, of=of),
        at_most(100.0 + SENSOR_PCT, "%", force, SENSOR, of=of),
    )


def _pairs(check: str, s: Situation) -> dict[str, tuple[Number | None, Number | None]]:
    """Return clamp and display for each line of this supply."""
    lines = LINES[: len(SYSTEMS[s.visit.system].lines)]
    return {
        line: (s.measured(f"{check}.clamp_{line}"), s.measured(f"{check}.shown_{line}"))
        for line in lines
    }


def _sensor(line: str, real_a: Number | None, shown_a: Number | None) -> Judgement:
    limits = _sensor_limits()
    if real_a is None or shown_a is None:
        return not_measured(f"Line {line}: clamp or display is missing", limits)
    real, shown = nominal(real_a), nominal(shown_a)
    words = f"Line {line}: the system shows {shown:.1f} A, the clamp {real:.1f} A"
    if real < TELLS_A:
        return unsettled(
            f"{words}: too little to tell",
            f"Repeat with {TELLS_A:g} A or more on this line",
            severity=Severity.NOTICE,
            limits=limits,
            sources=(TELLS,),
        )
    return compare(
        100.0 * shown_a / real_a,
        "%",
        limits,
        explanation=f"{words}, {100 * shown / real:.0f} % of it{_mistake(real, shown)}",
        why="What its sensors do not see, the system does not limit",
        remedy=FIX,
        severity=Severity.WARNING,
        of=f"line {line}, shown of clamp",
        working=(f"{shown:.1f} A / {real:.1f} A = {shown / real:.2f}",),
    )


def _is_near(real: float, other: float) -> bool:
    return abs(other - real) <= SENSOR_PCT / 100.0 * real


def _mistake(real: float, shown: float) -> str:
    """Say what a wrong display looks like; empty where it is near."""
    if shown < 0:
        return "; it counts backwards: turned round, or paired with another line's volts"
    if _is_near(real, shown):
        return ""
    return f"; {shown / real:.2f} times as much: look for a wrong ratio or line"


def _exchanged(
    group: Group, s: Situation, pairs: dict[str, tuple[Number | None, Number | None]]
) -> Judgement:
    """Judge whether every two lines are told apart: each nearer to its own clamp."""
    read = {
        line: (nominal(real), nominal(shown))
        for line, (real, shown) in pairs.items()
        if real is not None and shown is not None
    }
    two = tuple(combinations(read, 2))
    alike = [(a, b) for a, b in two if _is_alike(read[a][0], read[b][0])]
    mixed = [(a, b) for a, b in two if (a, b) not in alike and _is_mixed(read[a], read[b])]
    if len(read) < len(pairs) and not mixed:
        return not_measured("Still open: every line, clamp and display")
    if alike and not mixed:
        return _alike(group, s, alike)
    return seen(
        not mixed,
        explanation="Each line's sensor follows its own line"
        if not mixed
        else f"The sensors of lines {_named(mixed)} are exchanged",
        source=SENSOR,
        why="The system relieves the wrong line",
        remedy=FIX,
        severity=Severity.WARNING,
    )


def _is_alike(real: float, other: float) -> bool:
    return _is_near(max(real, other), min(real, other))


def _is_mixed(one: tuple[float, float], two: tuple[float, float]) -> bool:
    """Return whether each shows what the other's clamp reads, rather than its own."""
    (real_1, shown_1), (real_2, shown_2) = one, two
    own = abs(real_1 - shown_1) + abs(real_2 - shown_2)
    return abs(real_1 - shown_2) + abs(real_2 - shown_1) < own


def _named(lines: list[tuple[str, str]]) -> str:
    return ", ".join(f"{a}-{b}" for a, b in lines)


def _alike(group: Group, s: Situation, lines: list[tuple[str, str]]) -> Judgement:
    """Judge lines that carry the same: an exchange does not show, and may not matter."""
    words = f"Lines {_named(lines)} carry the same: exchanged sensors would not show"
    if group.is_whole(s) is False and not group.is_upper_bound(s):
        words += ", nor matter to chargers between the lines"
        return seen(True, explanation=words, source=SENSOR)
    return unsettled(
        words,
        "Repeat with a different load on each of these lines",
        severity=Severity.NOTICE,
        sources=(SENSOR,),
    )


def _judge_sensors(group: Group, s: Situation) -> Judgement:
    pairs = _pairs(f"{group.check}_sensors", s)
    parts = [_sensor(line, *pair) for line, pair in pairs.items()]
    good = "The system shows what the clamp reads, on each line and in its direction"
    return together((*parts, _exchanged(group, s, pairs)), good=good)


NO_COVER: Final = Caution(
    Severity.DANGER,
    "Open no cover and move no sensor while the panel is live. Clamp only at a guarded place with "
    "every cover on; where there is none, leave it out and say so. On smell or smoke stop the "
    "charges at the chargers.",
)
CLAMPED: Final = (
    "guarded single conductor of a break-out adapter, or of a compartment made for a clamp; every "
    "cover on"
)


def _line_inputs(line: str) -> tuple[Measurement, ...]:
    where = has_line_3 if line == LINES[2] else everywhere
    return (
        Measurement(
            f"clamp_{line}",
            f"Line {line}, clamp",
            dimension=Dimension.CURRENT,
            units=("A",),
            plausible=(0.0, 800.0),
            instruments=(InstrumentKind.CLAMP,),
            access_point=CLAMPED,
            where=where,
        ),
        Measurement(
            f"shown_{line}",
            f"Line {line}, system shows",
            dimension=Dimension.CURRENT,
            units=("A",),
            plausible=(-250.0, 800.0),
            access_point="the load management's own display",
            signed=True,
            where=where,
            help="With its sign: power from the supply counts as positive",
        ),
    )


def checks_of(group: Group) -> tuple[Check, ...]:
    """Return the checks of a managed group, made once a group."""
    return (
        Check(
            id=group.check,
            title="Load management: setting",
            quantity="Limit",
            how="Read the listing mark, the limit on the system's own screen and who may change "
            "it, and the marking at the supply equipment with its date.",
            inputs=(
                Rating("device_a", "Device ahead of the group", plausible=(15.0, 800.0)),
                Rating("set_a", "Limit as set", plausible=(6.0, 800.0), against=EVERY),
                Words("set_on", "Date it was set"),
                *(sign.input for sign in SIGNS),
            ),
            judge=partial(_judge_record, group),
            applies=group.why_not,
        ),
        Check(
            id=f"{group.check}_sensors",
            title="Load management: sensors",
            quantity="Sensor",
            how="With a known load on, and a different one on each line, read one line after "
            "the other with the clamp, and what the system shows for it.",
            inputs=tuple(each for line in LINES for each in _line_inputs(line)),
            judge=partial(_judge_sensors, group),
            state=CircuitState.UNDER_LOAD,
            applies=group.why_not,
            cautions=(NO_COVER,),
        ),
        *management_load.checks_of(group, CLAMPED, NO_COVER),
    )
