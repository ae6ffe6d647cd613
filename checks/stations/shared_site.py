"""Charging points that are open to more than one household: access, signs, what wears there.

The figures are those of the United States' accessibility standards and the advice built on them;
what an authority asks elsewhere is for it to say.
"""

from typing import Final

from checks.check import (
    Check,
    Measurement,
    Situation,
    When,
    YesNo,
    compare,
    not_measured,
    seen,
    together,
)
from checks.quantity import amount
from checks.record import InstrumentKind, VisitKind
from checks.source import Basis, Source, trade
from checks.stations.circuit_facts import is_dwelling
from checks.stations.observing import Sign, sees, signs_of
from checks.units import Dimension
from checks.verdict import Force, Judgement, Limit, Severity, at_least, at_most

ADVICE: Final = Source(
    document="U.S. Access Board, Design Recommendations for Accessible EV Charging Stations",
    edition="2022, as told in notes on it",
    basis=Basis.LOOKED_UP,
)
# 48 in, 5 ft, 11 ft and 20 ft, as the advice and the notes on it say.
HIGHEST_REACH_M: Final = 1.219
AISLE_M: Final = 1.524
STALL_WIDTH_M: Final = 3.353
STALL_LENGTH_M: Final = 6.096
WORK: Final = (VisitKind.COMMISSIONING, VisitKind.SITE_RECORD)
ACCESS: Final = "surroundings.access"
ACCESSIBLE: Final = When("is_accessible", ("yes",))
ROUTE: Final = Sign(
    YesNo("is_route_clear", "Level, clear route to it", good=True, when=ACCESSIBLE),
    trade("a wheelchair reaches charger and inlet without a curb, post or stopped car in its way"),
    "A curb, post or parked car bars the way from stall to charger",
    "Who uses a wheelchair cannot charge here",
    "Have the way cleared, ramped or moved",
    Severity.CAUTION,
)


def _shared_only(s: Situation) -> str:
    return "a dwelling's own bay" if is_dwelling(s) else ""


MEASURES: Final = {
    "reach": "height of what is operated",
    "aisle": "aisle beside it",
    "width": "stall, width",
    "length": "stall, length",
}


def _limits(s: Situation) -> dict[str, Limit]:
    """Return what each measure is held against, in the unit it was typed in."""
    advised = Force.RECOMMENDATION

    def unit(name: str) -> str:
        return s.unit_of(f"{ACCESS}.{name}", "m")

    sides = {
        "reach": (at_most, HIGHEST_REACH_M),
        "aisle": (at_least, AISLE_M),
        "width": (at_least, STALL_WIDTH_M),
        "length": (at_least, STALL_LENGTH_M),
    }
    return {
        name: make(value, unit(name), advised, ADVICE, of=MEASURES[name])
        for name, (make, value) in sides.items()
    }


def _judge_access(s: Situation) -> Judgement:
    limits = _limits(s)
    is_accessible = s.yes("surroundings.access.is_accessible")
    if is_accessible is None:
        return not_measured("Still open: is this stall to be accessible", tuple(limits.values()))
    if not is_accessible:
        return seen(
            True,
            explanation="Not said to be an accessible stall",
            source=trade("the authority says how many stalls are to be accessible"),
        )
    parts = [_measure(s, name, limit) for name, limit in limits.items()]
    return together((*parts, *signs_of(s, ACCESS, (ROUTE,))), good="Access as it is advised")


def _measure(s: Situation, name: str, limit: Limit) -> Judgement:
    found_m = s.measured(f"{ACCESS}.{name}")
    if found_m is None:
        return not_measured(f"Still open: {limit.amount.of}", (limit,))
    symbol = limit.amount.unit
    return compare(
        found_m,
        symbol,
        (limit,),
        explanation=f"{limit.amount.of}: {amount(found_m, symbol)}".capitalize(),
        why="Who uses a wheelchair cannot charge here",
        remedy="Ask the authority having jurisdiction what it asks for, and have it changed",
        severity=Severity.NOTICE,
        of=limit.amount.of,
    )


PUBLIC: Final = "surroundings.public"
PUBLIC_SIGNS: Final = (
    Sign(
        YesNo("is_signed", "Signs, markings, light", good=True),
        trade("the stall is marked for charging, and lit where it is used in the dark"),
        "The stall lacks signs, markings or light",
        "A charger that nobody finds at night is driven into, or blocked",
        "Have signs, markings and light put right",
        Severity.NOTICE,
    ),
    Sign(
        YesNo("is_cable_kept", "Cable kept off the ground", good=True),
        trade("a holder or retractor keeps cable and connector off the ground"),
        "Cable or connector lies on the ground when it is not used",
        "It is tripped over, driven over, and filled with water and dirt",
        "Have a holder or retractor fitted or mended",
        Severity.CAUTION,
    ),
    Sign(
        YesNo("is_sheltered", "Safe from snow and vandals", good=True),
        trade("plows, drifts and people who mean harm do not reach what can break"),
        "Snow, plow or vandals reach it unhindered",
        "A charger that is broken open leaves live parts in reach",
        "Have it raised, guarded, watched or locked",
        Severity.NOTICE,
    ),
)
PLAQUE: Final = Sign(
    YesNo(
        "is_linked",
        "Charger names its disconnect",
        good=True,
        help="Directory or plaque: which panel and breaker switch this charger off",
    ),
    trade("among several chargers each says which breaker switches it off, and where that is"),
    "Nothing on the charger says which breaker switches it off",
    "In smoke the wrong one is switched off",
    "Fit a plaque at the charger and a line in the directory, with the same name",
    Severity.CAUTION,
)


def _length(
    name: str, label: str, access_point: str, plausible: tuple[float, float]
) -> Measurement:
    return Measurement(
        name,
        label,
        dimension=Dimension.LENGTH,
        units=("m", "ft", "in"),
        plausible=plausible,
        instruments=(InstrumentKind.TAPE,),
        access_point=access_point,
        when=ACCESSIBLE,
        against=(MEASURES[name],),
    )


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id=ACCESS,
        title="Access",
        how="Follow the way of a wheelchair from the car's doors to the charger and to the inlet, "
        "and measure it.",
        inputs=(
            YesNo(
                "is_accessible",
                "An accessible stall",
                help="Built or marked as one. How many a site needs the authority says",
            ),
            _length("reach", "Highest control, screen", "ground to the highest part", (0.2, 3.0)),
            _length("aisle", "Aisle", "across the aisle beside the stall", (0.3, 6.0)),
            _length("width", "Stall, width", "between the stall's lines", (1.5, 8.0)),
            _length("length", "Stall, length", "along the stall's line", (3.0, 12.0)),
            ROUTE.input,
        ),
        judge=_judge_access,
        kinds=WORK,
        applies=_shared_only,
    ),
    Check(
        id=PUBLIC,
        title="Where many charge",
        how="Look at the stall as a stranger does who comes at night: sign, light, cable, breaker.",
        inputs=(*(sign.input for sign in PUBLIC_SIGNS), PLAQUE.input),
        judge=sees(PUBLIC, (*PUBLIC_SIGNS, PLAQUE), "Signed, lit, kept off the ground, linked"),
        kinds=WORK,
        applies=_shared_only,
        no_limit_because="signs, holders and plaques are seen, not measured",
    ),
)
