"""Room for the chargers on a service or a panel: judged the same at both."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final, TypeAlias

from checks.check import (
    Judge,
    Situation,
    compare,
    known_part,
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
from checks.record import SITE, VisitKind
from checks.stations import dwelling_load
from checks.stations.circuit_facts import charger_loads, is_dwelling
from checks.stations.line_share import Share, most_loaded_line
from checks.stations.room_inputs import MEASURED
from checks.stations.ruling import permitted
from checks.stations.upstream import all_held_a, share_upstream
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_most

RatingOf: TypeAlias = Callable[[Situation], float | None]

SOURCES: Final = "service.other_sources.is_present"


@dataclass(frozen=True)
class Held:
    """What load management holds: all chargers together, or the whole service; nothing without.

    ``missing`` says what of it is not recorded; the chargers are then taken as held to nothing.
    """

    chargers_a: float | None = None
    setpoint_a: float | None = None
    missing: str = ""


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
        limit = _limit(s, check, rating_a, what)
        held = _managed(s, check)
        if isinstance(held, str):
            return not_measured(held, (limit,))
        if held.setpoint_a is not None:
            return _judge_managed(s, limit, held.setpoint_a)
        return known_part(_judge_held(s, check, limit, held), held.missing)

    return judge


def _judge_held(s: Situation, check: str, limit: Limit, held: Held) -> Judgement:
    """Judge demand and chargers, the chargers at most as they are held."""
    if s.choice(f"{check}.method") == dwelling_load.METHOD:
        said = [amps for amps in (held.chargers_a, all_held_a(s)) if amps is not None]
        managed_a = min(said, default=None)
        return dwelling_load.judge_dwelling(s, check, limit, managed_a=managed_a)
    return _judge_known(s, check, limit, held)


def _managed(s: Situation, check: str) -> Held | str:
    """Return what load management holds, or the words for what is missing."""
    managed, managed_a = s.yes(f"{check}.is_managed"), s.rating(f"{check}.managed_a")
    if managed is None and s.choice(f"{check}.method") is not None:
        return "Still open: does a system limit the chargers"
    if not managed:
        return Held()
    manages = s.choice(f"{check}.manages")
    if managed_a is None:
        words = "Still open: the limit that the load management holds"
        return Held(0.0, missing=words) if manages == "chargers" else words
    is_whole = manages == "service"
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
    new, missing = _new_load(s, check, held)
    demand_a, method = s.rating(f"{check}.demand_a"), s.choice(f"{check}.method")
    if demand_a is None or method is None:
        words = "Still open: existing demand, and how it is known"
        alone = _judge_alone(s, limit, replace(new, most_a=new.least_a))
        return not_measured(words, (limit,)) if alone is None else known_part(alone, words)
    return known_part(_judge_demand(s, check, limit, demand_a, held, new), missing)


def _judge_demand(
    s: Situation, check: str, limit: Limit, demand_a: float, held: Held, new: Share
) -> Judgement:
    """Judge the existing demand, and what the chargers add to it."""
    method = s.choice(f"{check}.method") or ""
    if method not in MEASURED:
        judged = _judge_share(s, limit, demand_a, new, method)
        return _at_least(s, check, limit, demand_a, held, judged)
    is_generating = s.yes(f"{check}.is_generating") is not False or s.yes(SOURCES) is True
    allowed = record_allowed(s.code, MEASURED[method], is_generating=is_generating)
    if allowed.outcome is not Outcome.YES:
        return _judge_short_record(limit, allowed)
    judged = _judge_share(s, limit, demand_a, new, method)
    if not _is_said_of_new(s, check) or judged.verdict is Verdict.WITHIN:
        return judged
    return unsettled(
        "The record is said to hold a charger that is only now commissioned",
        "Enter no, so that it is added to the record, unless one as large charged here as long as "
        "was recorded",
        why=dwelling_load.WHY,
        remedy=judged.remedy,
        limits=(limit,),
        sources=judged.sources,
        working=judged.working,
    )


def _is_said_of_new(s: Situation, check: str) -> bool:
    """Return whether a record is said to hold what is only now commissioned."""
    is_included = s.yes(f"{check}.is_included") is True
    is_record = s.choice(f"{check}.method") in MEASURED
    return is_included and is_record and s.visit.kind is VisitKind.COMMISSIONING


def _at_least(
    s: Situation, check: str, limit: Limit, demand_a: float, held: Held, judged: Judgement
) -> Judgement:
    """Judge chargers at the least that each counts beside a calculated demand, where there is one.

    By which part a dwelling was calculated is not recorded, and not every part has that least.
    """
    rule, volts = s.code.load.charger_least_va, float(s.visit.system.level_2_v)
    if rule is None:
        return judged
    new, _ = _new_load(s, check, held, least_a=rule.value / volts)
    least = _judge_share(s, limit, demand_a, new, "calculated")
    if least.measured == judged.measured:
        return judged
    line = (
        f"a charger counts at least {rule.value:g} VA, {rule.value / volts:.4g} A ({rule.source})"
    )
    update = {"working": (line, *least.working), "sources": (*least.sources, rule.source)}
    least = least.model_copy(update=update)
    if least.verdict is judged.verdict or not is_dwelling(s):
        return least
    return unsettled(
        f"It fits by the chargers' own load, and not with {rule.value:g} VA for each",
        "See by which part of the code the load was calculated, and ask the authority having "
        "jurisdiction whether that least holds in it",
        why=dwelling_load.WHY,
        remedy=least.remedy,
        limits=(limit,),
        sources=least.sources,
        working=least.working,
    )


def _judge_share(s: Situation, limit: Limit, demand_a: float, new: Share, method: str) -> Judgement:
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


def _limit(s: Situation, check: str, rating_a: float, what: str) -> Limit:
    rules, method = s.code.load, s.choice(f"{check}.method")
    is_calculated = method is not None and method not in MEASURED
    rule = rules.calculated_ratio if is_calculated else rules.measured_ratio
    return at_most(rating_a, "A", Force.CODE_RULE, rule.source, of=f"{what} rating")


def _new_load(s: Situation, check: str, held: Held, *, least_a: float = 0.0) -> tuple[Share, str]:
    """Return what the chargers add to the most loaded line as far as known, and what is missing."""
    included = s.yes(f"{check}.is_included")
    if included is None:
        return Share(0.0, 0.0, ()), "Still open: are the chargers in the demand already"
    if included and not _is_said_of_new(s, check):
        return Share(0.0, 0.0, ()), ""
    known, missing = charger_loads(s)
    loads = [(here, max(load_a, least_a)) for here, load_a in known]
    new = (share_upstream if s.subject == SITE else most_loaded_line)(s, loads)
    if held.chargers_a is None or new.least_a <= new.most_a <= held.chargers_a:
        return new, missing
    held_a = held.chargers_a
    return replace(new, least_a=min(new.least_a, held_a), most_a=min(new.most_a, held_a)), missing


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
