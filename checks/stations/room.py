"""Room for the chargers on a service or a panel: declared once, asked at both."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
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
from checks.codes.answer import Outcome, Ruling
from checks.codes.circuit import required_feeder_a
from checks.codes.load import (
    largest_charger_that_fits_a,
    managed_service,
    measured_demand,
    record_allowed,
)
from checks.electrical.pilot import LEAST_A
from checks.errors import OutOfRangeError
from checks.quantity import rounded_down
from checks.record import SITE
from checks.stations import dwelling_load
from checks.stations.circuit_facts import charger_loads, is_dwelling
from checks.stations.line_share import Share, most_loaded_line
from checks.stations.ruling import permitted
from checks.stations.upstream import all_held_a, share_upstream
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_most

RatingOf: TypeAlias = Callable[[Situation], float | None]

MEASURED: Final[Mapping[str, int]] = {"year": 365, "month": 30}  # way to know it, days of record
BY_HAND: Final = (*MEASURED, "calculated")
KNOWN: Final = When("method", BY_HAND)
MANAGED: Final = When("is_managed", ("yes",))


def room_inputs(*, is_whole: bool) -> tuple[AnyInput, ...]:
    """Return the inputs.

    Parameters
    ----------
    is_whole : bool
        The whole site hangs on it, so that a dwelling's load can be calculated here.
    """
    dwelling = Option(dwelling_load.METHOD, "Calculate the dwelling", where=is_dwelling)
    here = (dwelling,) if is_whole else ()
    return (
        Choice(
            "method",
            "How the demand is known",
            options=(
                Option("year", "12 months, measured"),
                Option("month", "30 days, recorded"),
                Option("calculated", "Load calculation at hand"),
                *here,
            ),
        ),
        Rating(
            "demand_a",
            "Existing demand",
            units=("A",),
            plausible=(1.0, 400.0),
            when=KNOWN,
            help="Highest loaded line; 30 days: highest 15-minute average, with the season's "
            "heating or cooling added",
        ),
        YesNo(
            "is_included",
            "Holds the chargers already",
            when=KNOWN,
            help="Yes where they charged while it was measured, or are in the calculation",
        ),
        YesNo(
            "is_generating",
            "Generation or peak shaving",
            good=False,
            when=When("method", ("month",)),
            help="Solar, wind, battery or any means that hides part of the demand",
        ),
        *(dwelling_load.INPUTS if is_whole else ()),
        YesNo("is_managed", "Limited by load management"),
        Choice(
            "manages",
            "What is held to a limit",
            options=(
                Option("chargers", "All chargers together"),
                Option("service", "House and chargers together"),
            ),
            when=MANAGED,
        ),
        Rating(
            "managed_a",
            "Its limit",
            units=("A",),
            plausible=(6.0, 400.0),
            when=MANAGED,
            help="The most that the listed system lets them draw together",
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
        held = _managed(s, check)
        if isinstance(held, str):
            return not_measured(held, (limit,))
        if held.setpoint_a is not None:
            return _judge_managed(s, limit, held.setpoint_a)
        if s.choice(f"{check}.method") == dwelling_load.METHOD:
            said = [amps for amps in (held.chargers_a, all_held_a(s)) if amps is not None]
            managed_a = min(said, default=None)
            return dwelling_load.judge_dwelling(s, check, limit, managed_a=managed_a)
        return _judge_known(s, check, limit, held)

    return judge


@dataclass(frozen=True)
class Held:
    """What load management holds: all chargers together, or the whole service; nothing without."""

    chargers_a: float | None = None
    setpoint_a: float | None = None


def _managed(s: Situation, check: str) -> Held | str:
    """Return what load management holds, or the words for what is missing."""
    managed, managed_a = s.yes(f"{check}.is_managed"), s.rating(f"{check}.managed_a")
    if managed is None and s.choice(f"{check}.method") is not None:
        return "Still open: does a system limit the chargers"
    if not managed:
        return Held()
    if managed_a is None:
        return "Still open: the limit that the load management holds"
    is_whole = s.choice(f"{check}.manages") == "service"
    return Held(setpoint_a=managed_a) if is_whole else Held(chargers_a=managed_a)


def _judge_managed(s: Situation, limit: Limit, setpoint_a: float) -> Judgement:
    ruling = managed_service(s.code, limit.value, setpoint_a)
    judged = permitted(
        ruling,
        why=dwelling_load.WHY,
        remedy="Have the setpoint lowered until it fits, by who may change it",
    )
    return judged.model_copy(update={"limits": (limit,), "working": (ruling.why,)})


def _judge_known(s: Situation, check: str, limit: Limit, held: Held) -> Judgement:
    demand_a, method = s.rating(f"{check}.demand_a"), s.choice(f"{check}.method")
    if demand_a is None or method is None:
        return not_measured("Still open: existing demand, and how it is known", (limit,))
    new = _new_load(s, check, held)
    if isinstance(new, str):
        return not_measured(new, (limit,))
    if method in MEASURED:
        is_generating = s.yes(f"{check}.is_generating") is not False
        allowed = record_allowed(s.code, MEASURED[method], is_generating=is_generating)
        if allowed.outcome is not Outcome.YES:
            return _judge_short_record(limit, allowed)
    at_worst, at_best = (
        _judge_load(s, limit, demand_a, replace(new, least_a=a, most_a=a), method)
        for a in (new.most_a, new.least_a)
    )
    if at_worst.verdict is at_best.verdict:
        return at_best if at_best.verdict is Verdict.OUTSIDE else at_worst
    return _judge_spread(limit, new, at_worst)


def _judge_load(s: Situation, limit: Limit, demand_a: float, new: Share, method: str) -> Judgement:
    too_much = _judge_alone(s, limit, new)
    return too_much or _judge_fit(s, limit, demand_a, new, is_measured=method in MEASURED)


def _judge_spread(limit: Limit, new: Share, at_worst: Judgement) -> Judgement:
    """Return what is open where it hangs on the lines that each charger takes."""
    return unsettled(
        f"The chargers put between {new.least_a:.4g} A and {new.most_a:.4g} A on the most loaded "
        "line, as they are spread: at best they fit, at worst they do not",
        "Record the lines that each charger takes, at its breaker",
        why=dwelling_load.WHY,
        remedy="Spread them evenly over the lines, or have load management hold them to less",
        limits=(limit,),
        sources=at_worst.sources,
        working=at_worst.working,
    )


def _limit(s: Situation, rating_a: float, what: str) -> Limit:
    source = s.code.load.measured_ratio.source
    return at_most(rating_a, "A", Force.CODE_RULE, source, of=f"{what} rating")


def _new_load(s: Situation, check: str, held: Held) -> Share | str:
    """Return what the chargers add to the most loaded line, or the words for what is missing."""
    included = s.yes(f"{check}.is_included")
    if included is None:
        return "Still open: are the chargers in the demand already"
    if included:
        return Share(0.0, 0.0, ())
    loads = charger_loads(s)
    if isinstance(loads, str):
        return loads
    new = (share_upstream if s.subject == SITE else most_loaded_line)(s, loads)
    if held.chargers_a is None or new.least_a <= new.most_a <= held.chargers_a:
        return new
    return replace(new, least_a=min(new.least_a, held.chargers_a), most_a=held.chargers_a)


def _judge_short_record(limit: Limit, ruling: Ruling) -> Judgement:
    return unsettled(
        f"This record may not be built on: {ruling.why}",
        "Use 12 months of demand, or a load calculation",
        why="A short record, or generation, hides the demand that comes when seasons change or "
        "generation stops",
        remedy="Ask the utility for 12 months of demand, or calculate the load",
        limits=(limit,),
        sources=ruling.sources,
    )


def _room_words(
    s: Situation, rating_a: float, demand_a: float, *, is_measured: bool
) -> tuple[str, str]:
    """Return the largest charger that fits, and whether load management would help."""
    fitting = largest_charger_that_fits_a(s.code, rating_a, demand_a, is_measured=is_measured)
    most, least = (rounded_down(each.value, 1) for each in (fitting[0], fitting[-1]))
    largest = f"Chargers of up to {least:.1f} A together fit by either reading, {most:.1f} A by one"
    if least == most:
        largest = f"Chargers of up to {least:.1f} A together fit"
    if least < LEAST_A:
        return largest, "there is no room even for load management; the service must grow"
    return largest, f"load management that holds the chargers to {least:.1f} A together would fit"


def _judge_alone(s: Situation, limit: Limit, new: Share) -> Judgement | None:
    """Return the finding where the chargers alone, as a continuous load, are more than it bears."""
    new_a = new.most_a
    alone = required_feeder_a(s.code, new_a)
    if alone.value <= limit.value:
        return None
    return compare(
        alone.value,
        "A",
        (limit,),
        explanation=f"The chargers alone, {new_a:.5g} A for hours, count {alone.value:.5g} A on "
        f"{limit.value:g} A",
        why=dwelling_load.WHY,
        remedy="Choose a smaller current, or have load management hold the chargers to less",
        severity=Severity.WARNING,
        sources=alone.sources,
        working=(*new.working, *alone.working),
    )


def _judge_fit(
    s: Situation, limit: Limit, demand_a: float, new: Share, *, is_measured: bool
) -> Judgement:
    try:
        fit = measured_demand(s.code, limit.value, demand_a, new.most_a, is_measured=is_measured)
    except OutOfRangeError as error:
        return not_measured(f"{error.problem}. {error.remedy}", (limit,))
    largest, management = _room_words(s, limit.value, demand_a, is_measured=is_measured)
    lenient, strict = fit.totals_a[0], fit.totals_a[-1]
    why = dwelling_load.WHY
    remedy = f"Choose a smaller current, add load management, or enlarge it: {management}"
    working = (*new.working, *fit.working)
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
