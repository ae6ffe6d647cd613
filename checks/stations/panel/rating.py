"""The panel's numbers: bus and main, interrupting rating, spare spaces, room for the chargers."""

from typing import Final

from checks.check import (
    EVERY,
    Check,
    Choice,
    Option,
    Rating,
    Situation,
    When,
    YesNo,
    compare,
    not_measured,
    seen,
    unsettled,
)
from checks.record import VisitKind
from checks.source import Basis, Source, trade
from checks.stations.circuit_facts import breaker_a, circuit_poles
from checks.stations.observing import rule_source
from checks.stations.room import room_judge
from checks.stations.room_inputs import room_inputs
from checks.stations.service_main import AT_PANEL, Main, is_asked_at_panel, is_main_here, main_of
from checks.units import Dimension
from checks.verdict import Force, Judgement, Limit, Severity, at_least, at_most


def _judge_rating(s: Situation) -> Judgement:
    bus_a = s.rating("panel.rating.bus_a")
    if bus_a is None:
        return not_measured("Read the bus rating from the label inside the door")
    limit = at_most(bus_a, "A", Force.CODE_RULE, rule_source(s, "bus protection"), of="bus")
    main = main_of(s) if is_main_here(s) else Main(None, s.rating(AT_PANEL))
    if main.is_in_doubt:
        return unsettled(
            main.doubt,
            "Read the main's handle again, and make the check again whose number is wrong",
            why="Bus and room on the service are held against a number that may be the wrong one",
            severity=Severity.WARNING,
            limits=(limit,),
        )
    if main.amps is None:
        return not_measured("Read the device ahead of the bus: main, or feeder breaker", (limit,))
    return compare(
        main.amps,
        "A",
        (limit,),
        explanation=f"{main.amps:g} A ahead of a bus rated {bus_a:g} A",
        why="Nothing then keeps the bus within what it bears, and it burns at its joints",
        remedy="Add no load; have the device ahead of the bus brought down to the bus's rating",
        severity=Severity.WARNING,
        telling=f"{bus_a:g} A bus",
    )


def panel_rating_a(s: Situation) -> float | None:
    """Return the lesser of bus and device ahead of it [A]."""
    bus_a, main_a = s.rating("panel.rating.bus_a"), s.rating(AT_PANEL)
    return None if bus_a is None or main_a is None else min(bus_a, main_a)


def _feeder_fed(s: Situation) -> str:
    if s.panel.is_service_equipment:
        return "this panel is the service equipment; its room is judged there"
    return ""


ESTIMATED: Final = Source(
    document="available fault current, estimated on site", basis=Basis.DOUBTFUL
)


SERIES: Final = trade(
    "breakers below the fault current rest only on a combination that was tested and is marked, "
    "with its rating, as NEC 110.22 and 240.86(B) have it"
)
BURSTS: Final = "A breaker that opens more than it can interrupt bursts"
HIGHER: Final = (
    "Keep the new circuit off; fit listed breakers of a higher interrupting rating, or a series "
    "combination that the panel is marked for"
)
IN_WRITING: Final = "Get the utility's figure in writing"


def _fault_limit(s: Situation) -> Limit | None:
    available_a = s.rating("panel.interrupting.available")
    if available_a is None:
        return None
    is_estimate = s.choice("panel.interrupting.basis") == "estimated"
    source = ESTIMATED if is_estimate else rule_source(s, "interrupting")
    return at_least(available_a, "kA", Force.CODE_RULE, source, of="available fault current")


def _judge_interrupting(s: Situation) -> Judgement:
    limit, rating_a = _fault_limit(s), s.rating("panel.interrupting.rating")
    if limit is None:
        return not_measured("Ask the utility for the available fault current, or calculate it")
    if rating_a is None:
        return not_measured("Read the lowest interrupting rating of the breakers", (limit,))
    if rating_a < limit.value and s.yes("panel.interrupting.is_series_rated"):
        return _judge_series(s, limit)
    return compare(
        rating_a,
        "kA",
        (limit,),
        explanation=f"Lowest interrupting rating {rating_a / 1000:g} kA, available fault current "
        f"{limit.value / 1000:g} kA",
        why=BURSTS,
        remedy=HIGHER,
        severity=Severity.WARNING,
        settles=IN_WRITING,
    )


def _judge_series(s: Situation, limit: Limit) -> Judgement:
    """Judge breakers that rest on the one ahead: by what was tested together and is marked."""
    tested_a = s.rating("panel.interrupting.combined")
    is_named = s.yes("panel.interrupting.is_named")
    if is_named is False:
        judged = seen(
            False,
            explanation="The marked series combination names other breakers than these",
            source=SERIES,
            why=BURSTS,
            remedy=HIGHER,
        )
        return judged.model_copy(update={"limits": (limit,)})
    if tested_a is None or is_named is None:
        return not_measured(
            "Read from the marking the combination's rating, and the breakers that it names",
            (limit,),
            (SERIES,),
        )
    return compare(
        tested_a,
        "kA",
        (limit,),
        explanation=f"Marked for {tested_a / 1000:g} kA in series with these breakers, available "
        f"fault current {limit.value / 1000:g} kA",
        why=BURSTS,
        remedy=HIGHER,
        severity=Severity.WARNING,
        settles=IN_WRITING,
        sources=(SERIES,),
    )


def _spaces_needed(s: Situation) -> int:
    return sum(circuit_poles(here) for here in s.points if breaker_a(here) is None)


def _judge_spaces(s: Situation) -> Judgement:
    needed, spare = _spaces_needed(s), s.rating("panel.spaces.spare")
    limit = at_least(
        float(needed),
        "pcs",
        Force.TRADE_JUDGEMENT,
        trade("one space a pole for every charging point whose breaker is still to come"),
        of="spaces to come",
    )
    if spare is None:
        return not_measured("Count the spare spaces; a tandem only where one is marked", (limit,))
    return compare(
        spare,
        "pcs",
        (limit,),
        explanation=f"{spare:g} spare spaces, {needed} needed for the points still to come",
        why="A breaker without a space of its own ends as a double tap",
        remedy="Add a subpanel, or use tandem breakers only where the label allows them",
        severity=Severity.NOTICE,
    )


IN_SERIES: Final = When("is_series_rated", ("yes",))
CHECKS: Final = (
    Check(
        id="panel.rating",
        title="Panel rating",
        how="Read the bus rating from the label inside the door and the device ahead of it: the "
        "main here, or the feeder breaker at the panel before. The main of the service is asked "
        "for once, here or at the service.",
        inputs=(
            Rating("bus_a", "Bus rating", plausible=(30.0, 800.0)),
            Choice(
                "ahead",
                "Device ahead of the bus",
                options=(
                    Option("main", "Main breaker in this panel"),
                    Option("feeder", "Feeder breaker elsewhere"),
                ),
                optional=True,
                where=is_asked_at_panel,
            ),
            Rating(
                "main_a",
                "Its rating",
                plausible=(30.0, 800.0),
                against=EVERY,
                where=is_asked_at_panel,
            ),
        ),
        judge=_judge_rating,
        tells=True,
    ),
    Check(
        id="panel.load",
        title="Room on the panel",
        quantity="Load",
        how="As at the service, for the feeder of this panel alone.",
        inputs=room_inputs(is_whole=False),
        judge=room_judge("panel.load", panel_rating_a, "panel"),
        applies=_feeder_fed,
    ),
    Check(
        id="panel.interrupting",
        title="Interrupting rating",
        how="Read the interrupting rating on the breakers, the lowest counts. Take the available "
        "fault current from the utility's letter, the label or a calculation.",
        inputs=(
            Rating("available", "Available fault current", units=("kA", "A"), plausible=(5e2, 1e5)),
            Choice(
                "basis",
                "Known from",
                options=(
                    Option("utility", "Utility's letter"),
                    Option("label", "Label on the equipment"),
                    Option("calculated", "Calculation"),
                    Option("estimated", "Estimate on site"),
                ),
            ),
            Rating(
                "rating",
                "Lowest rating of a breaker",
                units=("kA", "A"),
                plausible=(5e3, 1e5),
                against=EVERY,
            ),
            YesNo(
                "is_series_rated",
                "Marked as series rated",
                optional=True,
                help="The label names this combination of main and branch breaker",
            ),
            Rating(
                "combined",
                "Combination's rating",
                units=("kA", "A"),
                plausible=(5e3, 2e5),
                against=EVERY,
                when=IN_SERIES,
                help="As marked for the pair, main ahead and branch",
            ),
            YesNo(
                "is_named",
                "Both breakers as it names",
                good=True,
                when=IN_SERIES,
                help="Maker, type and rating of the main and of the new breaker",
            ),
        ),
        judge=_judge_interrupting,
    ),
    Check(
        id="panel.spaces",
        title="Spare spaces",
        how="Count the spaces that are free, with the cover on.",
        inputs=(
            Rating(
                "spare",
                "Spare spaces",
                dimension=Dimension.COUNT,
                units=("pcs",),
                plausible=(0.0, 42.0),
                against=EVERY,
            ),
        ),
        judge=_judge_spaces,
        kinds=(VisitKind.COMMISSIONING, VisitKind.SITE_RECORD),
    ),
)
