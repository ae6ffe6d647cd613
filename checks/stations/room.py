"""Room for the chargers on a service or a panel: declared once, asked at both."""

from collections.abc import Callable
from typing import Final, TypeAlias

from checks.check import (
    AnyInput,
    Choice,
    Judge,
    Option,
    Rating,
    Situation,
    When,
    YesNo,
    compare,
    not_measured,
    unsettled,
)
from checks.codes.answer import Outcome
from checks.codes.load import largest_charger_that_fits_a, measured_demand
from checks.electrical.pilot import LEAST_A
from checks.errors import OutOfRangeError
from checks.stations.circuit_facts import charger_load_a
from checks.verdict import Force, Judgement, Limit, Severity, at_most

RatingOf: TypeAlias = Callable[[Situation], float | None]

INPUTS: Final[tuple[AnyInput, ...]] = (
    Choice(
        "method",
        "How the demand is known",
        options=(
            Option("year", "12 months, measured"),
            Option("month", "30 days, recorded"),
            Option("calculated", "Load calculation"),
        ),
    ),
    Rating(
        "demand_a",
        "Existing demand",
        units=("A",),
        plausible=(1.0, 400.0),
        help="Highest loaded line; 30 days: highest 15-minute average, with the season's heating "
        "or cooling added",
    ),
    YesNo(
        "is_included",
        "Holds the chargers already",
        help="Yes where they charged while it was measured, or are in the calculation",
    ),
    YesNo(
        "is_generating",
        "Generation or peak shaving",
        good=False,
        when=When("method", ("month",)),
        help="Solar, wind, battery or any means that hides part of the demand",
    ),
    YesNo("is_managed", "Limited by load management"),
    Rating(
        "managed_a",
        "Limit for all chargers",
        units=("A",),
        plausible=(6.0, 400.0),
        when=When("is_managed", ("yes",)),
        help="The most that the listed system lets all of them draw together",
    ),
)


def room_judge(check: str, rating_of: RatingOf, what: str) -> Judge:
    """Return the judge of the room on a service or a panel.

    Parameters
    ----------
    check : str
        Its id.
    rating_of : callable
        The rating to stay within, from the situation. [A]
    what : str
        ``"service"`` or ``"panel"``.
    """

    def judge(s: Situation) -> Judgement:
        rating_a = rating_of(s)
        if rating_a is None:
            return not_measured(f"Record the {what}'s rating first")
        limit = _limit(s, rating_a, what)
        demand_a, method = s.rating(f"{check}.demand_a"), s.choice(f"{check}.method")
        if demand_a is None or method is None:
            return not_measured("Still open: existing demand, and how it is known", (limit,))
        new_a = _new_load_a(s, check)
        if isinstance(new_a, str):
            return not_measured(new_a, (limit,))
        if method == "month" and s.yes(f"{check}.is_generating") is not False:
            return _judge_short_record(s, limit)
        return _judge_fit(s, limit, demand_a, new_a, is_measured=method != "calculated")

    return judge


def _limit(s: Situation, rating_a: float, what: str) -> Limit:
    source = s.code.load.measured_ratio.source
    return at_most(rating_a, "A", Force.CODE_RULE, source, of=f"{what} rating")


def _new_load_a(s: Situation, check: str) -> float | str:
    """Return what the chargers add to the demand, or the words for what is missing."""
    included, managed = s.yes(f"{check}.is_included"), s.yes(f"{check}.is_managed")
    managed_a = s.rating(f"{check}.managed_a")
    if included is None or managed is None or (managed and managed_a is None):
        return "Still open: are the chargers in the demand already, does a system limit them"
    if included:
        return 0.0
    total_a = _chargers_a(s)
    if isinstance(total_a, str) or not managed or managed_a is None:
        return total_a
    return min(total_a, managed_a)


def _chargers_a(s: Situation) -> float | str:
    """Return the sum of the chargers' loads, or the words for whose is missing."""
    loads = [(here.point.name, charger_load_a(here)) for here in s.points]
    missing = ", ".join(name for name, load_a in loads if load_a is None)
    if missing:
        return f"Record the charger's current first: {missing}"
    return sum(load_a for _, load_a in loads if load_a is not None)


def _judge_short_record(s: Situation, limit: Limit) -> Judgement:
    return unsettled(
        "A 30-day record counts only where nothing on site generates or shaves peaks",
        "Use 12 months of demand, or a load calculation",
        why="Generation hides the demand that comes when it stops",
        remedy="Ask the utility for 12 months of demand, or calculate the load",
        limits=(limit,),
        sources=(s.code.load.measured_ratio.source,),
    )


def _room_words(
    s: Situation, rating_a: float, demand_a: float, *, is_measured: bool
) -> tuple[str, str]:
    """Return the largest charger that fits, and whether load management would help."""
    fitting = largest_charger_that_fits_a(s.code, rating_a, demand_a, is_measured=is_measured)
    most, least = fitting[0].value, fitting[-1].value
    largest = f"Chargers of up to {least:.1f} A together fit by either reading, {most:.1f} A by one"
    if least < LEAST_A:
        return largest, "there is no room even for load management; the service must grow"
    return largest, f"load management that holds the chargers to {least:.1f} A together would fit"


def _judge_fit(
    s: Situation, limit: Limit, demand_a: float, new_a: float, *, is_measured: bool
) -> Judgement:
    try:
        fit = measured_demand(s.code, limit.value, demand_a, new_a, is_measured=is_measured)
    except OutOfRangeError as error:
        return not_measured(f"{error.problem}. {error.remedy}", (limit,))
    largest, management = _room_words(s, limit.value, demand_a, is_measured=is_measured)
    lenient, strict = fit.totals_a[0], fit.totals_a[-1]
    why = "An overloaded service heats its joints, and its main trips when the load is greatest"
    remedy = f"Choose a smaller current, add load management, or enlarge it: {management}"
    working = (*fit.working, "chargers are added as if all were on the same line, the cautious way")
    if fit.ruling.outcome is Outcome.READ_TWO_WAYS:
        return unsettled(
            f"Demand and chargers count {lenient:.4g} A, or {strict:.4g} A where the new load is "
            f"taken as continuous too, on {limit.value:g} A. {largest}",
            "Ask the authority having jurisdiction which reading holds here",
            why=why,
            remedy=remedy,
            limits=(limit,),
            sources=fit.ruling.sources,
            working=working,
        )
    total_a = strict if fit.ruling.outcome is Outcome.YES else lenient
    return compare(
        total_a,
        "A",
        (limit,),
        explanation=f"Demand and chargers count {total_a:.4g} A on {limit.value:g} A. {largest}",
        why=why,
        remedy=remedy,
        severity=Severity.WARNING,
        sources=fit.ruling.sources,
        working=working,
    )
