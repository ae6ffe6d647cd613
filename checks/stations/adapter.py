"""The adapter between connector and inlet, where they differ, and what is checked there."""

from typing import Final

from checks.check import (
    EVERY,
    Caution,
    Check,
    CircuitState,
    Rating,
    Situation,
    YesNo,
    compare,
    not_measured,
    together,
)
from checks.source import Basis, Source, trade
from checks.stations import connector
from checks.stations.circuit_facts import charger_load_a
from checks.stations.connector import pin_signs
from checks.stations.observing import Sign, rule_source, sees, signs_of
from checks.stations.seating import judge_seated, seating_inputs
from checks.stations.warmth.inputs import CAUTIONS, warmth_inputs
from checks.stations.warmth.judge import warmth_judge
from checks.stations.warmth.place import Place
from checks.units import Dimension
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_least

ADAPTERS: Final = Source(document="UL 2252", clause="adapters", basis=Basis.LOOKED_UP)
NONE: Final = "Stop using it; charge with a connector that fits, or with a listed adapter"
LISTING_SIGNS: Final = (
    Sign(
        YesNo("is_listed", "Listing mark seen", good=True),
        ADAPTERS,
        "No listing mark is on the adapter",
        "Few adapters keep cool and latched at full current; the mark says that one was tested",
        NONE,
        Severity.WARNING,
    ),
    Sign(
        YesNo("is_approved", "Vehicle's maker approves it", good=True),
        trade("adapters that the vehicle's maker approves"),
        "The vehicle's maker does not approve the adapter",
        "Latch, proximity and heat protection are matched to the inlet by its maker",
        NONE,
        Severity.CAUTION,
    ),
)


def _rating_limits(s: Situation) -> tuple[Limit, ...]:
    load_a = charger_load_a(s)
    if load_a is None:
        return ()
    source = rule_source(s, "listed use")
    return (at_least(load_a, "A", Force.LISTING, source, of="adapter's rating"),)


def _rating(s: Situation) -> Judgement:
    limits, rated_a = _rating_limits(s), s.rating("adapter.listing.rated_a")
    if rated_a is None or not limits:
        missing = "The adapter's rating" if rated_a is None else "The charger's current"
        return not_measured(f"{missing} is missing", limits)
    return compare(
        rated_a,
        "A",
        limits,
        explanation=f"The adapter is rated {rated_a:g} A",
        why="It carries what the charger offers, whatever its own rating is",
        remedy="Set the charger to the adapter's rating, or use one that is rated for it",
        severity=Severity.WARNING,
        of="adapter's rating",
    )


def _judge_listing(s: Situation) -> Judgement:
    return together(
        (*signs_of(s, "adapter.listing", LISTING_SIGNS), _rating(s)),
        good="Listed, approved and rated for the charger",
    )


def judge_seating(s: Situation) -> Judgement:
    """Judge from latch, pull and gap whether the adapter sits home in the inlet.

    Its other face, with the connector in it, is judged once: at the connector.
    """
    return judge_seated(s, "adapter.seating", "adapter in the inlet")


REPLACE: Final = (
    "Keep the adapter out of use and replace it with a listed one; have connector and inlet that "
    "were in it looked at"
)
PINS: Final = pin_signs("adapter", REPLACE)
judge_pins: Final = sees("adapter.pins", PINS, "Pins clean and bright, housing whole")


def _is_backed(s: Situation) -> bool:
    judges = (judge_seating, connector.judge_seating, judge_pins)
    return all(judge(s).verdict is Verdict.WITHIN for judge in judges)


BODY: Final = Place(
    check="adapter.temperature",
    part="adapter",
    is_backed=_is_backed,
    settles="Seating of both faces and pins checked with no current, all good",
    damage=judge_pins,
    is_grasped=True,
)

CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="adapter.temperature",
        needs=("connector.seating", "adapter.seating", "adapter.listing"),
        title="Temperature of the adapter",
        quantity="Heat",
        how=(
            "From the start of the charge on, read the hottest spot of the adapter, always at "
            "the same place; look at both faces. Leave it mated."
        ),
        inputs=warmth_inputs("hottest spot of the adapter, both faces"),
        judge=warmth_judge(BODY),
        state=CircuitState.UNDER_LOAD,
        cautions=CAUTIONS,
        tells=True,
    ),
    Check(
        id="adapter.listing",
        title="Adapter: listing and rating",
        quantity="Rating",
        how="Read the adapter's marking; ask the vehicle's maker's list.",
        inputs=(
            *(sign.input for sign in LISTING_SIGNS),
            Rating(
                "rated_a",
                "Rated current",
                dimension=Dimension.CURRENT,
                units=("A",),
                plausible=(10.0, 500.0),
                against=EVERY,
            ),
        ),
        judge=_judge_listing,
    ),
    Check(
        id="adapter.pins",
        touches=True,
        title="Adapter: pins and housing",
        how="With no charge running and a good light look into both faces; touch no pin.",
        inputs=tuple(sign.input for sign in PINS),
        judge=judge_pins,
        state=CircuitState.NO_CURRENT,
        gates=True,
        no_limit_because="wear is seen, not measured",
    ),
    Check(
        id="adapter.seating",
        needs=("adapter.pins", "vehicle.inlet_condition"),
        touches=True,
        title="Adapter seated in the inlet",
        quantity="Gap",
        how=(
            "With no charge running push the adapter home into the inlet: listen for the click, "
            "pull firmly, try to rock it, gauge the gap. Its face to the connector is asked at the "
            "connector."
        ),
        inputs=seating_inputs("adapter"),
        judge=judge_seating,
        state=CircuitState.NO_CURRENT,
        cautions=(
            Caution(
                Severity.WARNING,
                "End the charge first: never pull, rock or gauge it under load, and never pry.",
            ),
        ),
    ),
)
