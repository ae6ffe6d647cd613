"""The breaker's face and the air beside it under load, with every cover closed."""

from typing import Final

from checks.check import (
    Caution,
    Check,
    CircuitState,
    Measurement,
    Situation,
    compare,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.electrical.breaker import AMBIENT, hottest_air_c
from checks.electrical.heat_forecast_stop import STOP_C, STOP_C_BASIS
from checks.electrical.thermography import LEVELS, LIKE_MAJOR_K, LIKE_POSSIBLE_K
from checks.quantity import expanded, nominal
from checks.record import InstrumentKind, VisitKind
from checks.stations.circuit_facts import breaker_a, charger_load_a
from checks.stations.warmth.place import ALONE, SURFACE
from checks.units import Dimension, Number
from checks.verdict import Force, Judgement, Limit, Severity, at_most

CHECK: Final = "breaker.temperature"
STOPS: Final = Caution(
    Severity.WARNING,
    "Covers stay on. On smell, smoke or discoloration end the charge at the vehicle and leave "
    "the panel alone.",
)
WORN: Final = "A breaker hotter than one that carries as much has a bad joint, or is worn"
AIR: Final = "air at the breaker"
UNSEEN: Final = "over its neighbor, before it is looked into"
LOOK: Final = "End the charge, then check its terminal and its place with the panel dead"


def _limits(s: Situation) -> tuple[Limit, Limit | None]:
    like = at_most(LIKE_MAJOR_K, "K", Force.RECOMMENDATION, LEVELS, of="over its neighbor")
    load_a, rated_a = charger_load_a(s), breaker_a(s)
    if load_a is None or rated_a is None:
        return like, None
    most_c, line = hottest_air_c(load_a, rated_a)
    return like, at_most(most_c, "°C", Force.TRADE_JUDGEMENT, AMBIENT, of=AIR, working=(line,))


def _judge(s: Situation) -> Judgement:
    like, air = _limits(s)
    limits = (like,) if air is None else (like, air)
    face_c, like_c, air_c = (
        s.measured("breaker.temperature.face"),
        s.measured("breaker.temperature.neighbor"),
        s.measured("breaker.temperature.air"),
    )
    read = [nominal(c) for c in (face_c, like_c) if c is not None]
    parts = _too_hot(max(read)) if read else []
    if face_c is None or like_c is None or air_c is None:
        parts.append(not_measured("Face, neighbor and air are missing", limits))
        return together(parts)
    parts += _face(face_c - like_c, like)
    if air is None:
        parts.append(not_measured("Breaker rating and charger's current are missing", limits))
    else:
        parts.append(_air(s, air))
    return together(parts, telling=f"{nominal(face_c):.0f} °C")


def _face(over: Number, like: Limit) -> tuple[Judgement, Judgement]:
    """Hold the face against its neighbor's; what is behind it no face shows sound."""
    words = f"The breaker's face is {nominal(over):.1f} K hotter than its neighbor's"
    if nominal(over) < 0:
        over = -over
        words = f"The neighbor's face is {nominal(over):.1f} K hotter than this breaker's"
    judged = compare(
        over,
        "K",
        (like,),
        explanation=words,
        why=WORN,
        remedy=LOOK,
        severity=Severity.WARNING,
    )
    if nominal(over) - expanded(over) > LIKE_POSSIBLE_K:
        most = at_most(LIKE_POSSIBLE_K, "K", Force.RECOMMENDATION, LEVELS, of=UNSEEN)
        doubt = unsettled(words, LOOK, limits=(most,), why=WORN, remedy=LOOK, sources=(LEVELS,))
    else:
        doubt = unsettled(f"{words}; {ALONE}", LOOK, severity=Severity.NOTICE, sources=(SURFACE,))
    return judged, doubt


def _too_hot(hottest_c: float) -> list[Judgement]:
    """Return a finding where either face is as hot as no test goes on: its neighbor may be too."""
    if hottest_c < STOP_C:
        return []
    return [
        seen(
            False,
            explanation=f"A breaker's face is {hottest_c:.0f} °C, and the test ends at "
            f"{STOP_C:g} °C",
            source=STOP_C_BASIS,
            why=WORN,
            remedy="End the charge at the vehicle and leave the panel alone while it is hot; then "
            "check terminals and places with the panel dead",
            severity=Severity.DANGER,
        )
    ]


def _air(s: Situation, limit: Limit) -> Judgement:
    air_c = s.measured("breaker.temperature.air")
    assert air_c is not None
    return compare(
        air_c,
        "°C",
        (limit,),
        explanation=f"The air at the breaker is {nominal(air_c):.1f} °C; it carries this load up "
        f"to {limit.value:.0f} °C",
        why="A breaker trips by heat: warm air leaves it less room for current",
        remedy="Shade or ventilate the panel, space the loaded breakers, or set the current down",
        severity=Severity.CAUTION,
    )


def _temperature(name: str, label: str, where: str, against: tuple[str, ...] = ()) -> Measurement:
    return Measurement(
        name,
        label,
        dimension=Dimension.TEMPERATURE,
        units=("°C", "°F"),
        plausible=(-30.0, 120.0),
        instruments=(InstrumentKind.CONTACT_THERMOMETER, InstrumentKind.INFRARED),
        access_point=where,
        signed=True,
        against=against,
    )


CHECKS: Final = (
    Check(
        id=CHECK,
        title="Breaker's warmth under load",
        quantity="Heat",
        how="With every cover on, after half an hour of charging, take the breaker's face, that of "
        "a neighbor that carries about as much, and the air in front of the panel.",
        inputs=(
            _temperature("face", "Face of this breaker", "plastic face of the breaker, cover on"),
            _temperature("neighbor", "Face of a neighbor", "face of a like breaker, cover on"),
            _temperature("air", "Air at the panel", "air in front of the closed panel", (AIR,)),
        ),
        judge=_judge,
        state=CircuitState.UNDER_LOAD,
        needs=("connector.seating", "adapter.seating", "adapter.listing"),
        kinds=(VisitKind.SERVICE_CALL,),
        cautions=(STOPS,),
    ),
)
