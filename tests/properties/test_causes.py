"""Laws of the causes: order does not matter, silence says nothing, no test could hurt."""

from random import Random
from typing import Final

from hypothesis import HealthCheck, given, settings

from checks.assess import Assessment, assess
from checks.causes.bayes import factors, weigh
from checks.causes.library import CAUSES
from checks.causes.ranking import library_table
from checks.causes.safety import BURNT, DAMAGED, WET
from checks.check import CircuitState, Situation
from checks.codes import profile
from checks.record import NotDone, NotDoneReason, Role, Visit, VisitKind
from checks.stations.all import BY_ID
from checks.verdict import Verdict
from tests.strategies import filled, full_entry, seeds, shapes

NEC: Final = profile("nec_2023")
CHART: Final = library_table()
LIVE: Final = (CircuitState.ENERGISED, CircuitState.UNDER_LOAD)
some = settings(
    max_examples=25, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)


def a_call(shape: Visit, seed: int, share: float) -> Visit:
    """A service call with some of its checks made."""
    rng = Random(seed)
    made = filled(shape.model_copy(update={"kind": VisitKind.SERVICE_CALL}), rng, full_entry)
    kept = tuple(e for e in made.entries if rng.random() < share)
    return made.model_copy(update={"entries": kept})


def draw_found(rng: Random) -> dict[str, str]:
    chosen = rng.sample(list(CHART.clues.values()), rng.randint(0, 20))
    return {c.id: rng.choice(c.outcomes).value for c in chosen}


@some
@given(seeds)
def test_evidence_never_raises_a_cause_it_speaks_against(seed: int) -> None:
    """Against none of these, whatever else was found, and whatever group it belongs to."""
    rng = Random(seed)
    found = draw_found(rng)
    before = weigh(CHART, factors(CHART, found).values())
    for number, cause in enumerate(CAUSES, 1):
        for one in cause.evidence:
            if one.clue in found or one.ratio >= 1:
                continue
            told = found | {one.clue: one.outcome}
            after = weigh(CHART, factors(CHART, told).values())
            odds_before, odds_after = before[number] / before[0], after[number] / after[0]
            assert odds_after <= odds_before * (1 + 1e-9), f"{one.clue} for {cause.id}"


@some
@given(seeds)
def test_what_was_found_weighs_the_same_in_any_order(seed: int) -> None:
    rng = Random(seed)
    found = draw_found(rng)
    turned = dict(rng.sample(list(found.items()), len(found)))
    assert weigh(CHART, factors(CHART, found).values()) == weigh(
        CHART, factors(CHART, turned).values()
    )


@some
@given(shapes(), seeds)
def test_the_order_of_entries_does_not_matter(shape: Visit, seed: int) -> None:
    made = a_call(shape, seed, 0.5)
    turned = tuple(Random(seed).sample(made.entries, len(made.entries)))
    first = assess(made, NEC).model_dump_json()
    assert assess(made.model_copy(update={"entries": turned}), NEC).model_dump_json() == first


@some
@given(shapes(), seeds)
def test_a_question_that_was_left_out_changes_no_share(shape: Visit, seed: int) -> None:
    made = a_call(shape, seed, 0.4)
    before = assess(made, NEC).causes
    asked = {e.check for e in made.entries}
    left = next(c for c in BY_ID.values() if c.id not in asked and c.station.value == "outlet")
    reason = NotDone(reason=NotDoneReason.NO_ACCESS)
    entry = made.entries[0].model_copy(
        update={
            "number": 9999,
            "check": left.id,
            "subject": made.points[0].id,
            "answers": (),
            "not_done": reason,
        }
    )
    after = assess(made.model_copy(update={"entries": (*made.entries, entry)}), NEC).causes
    shares = [[(c.cause, c.share) for c in r.causes] for r in (before[0], after[0])]
    assert shares[0] == shares[1]


@settings(some, max_examples=60)
@given(shapes(), seeds)
def test_no_test_is_proposed_that_could_hurt_or_that_may_not_be_made(
    shape: Visit, seed: int
) -> None:
    made = a_call(shape, seed, 0.25)
    if Random(seed).random() < 0.2:
        made = made.model_copy(update={"instruments": ()})
    found = assess(made, NEC)
    for ranking in found.causes:
        test = ranking.next_test
        if test is None:
            continue
        check, here = BY_ID[test.check], Situation(made, NEC, ranking.point)
        assert check.not_here_because(here) == ""
        assert made.role is not Role.INSPECTS or not check.opens
        assert not made.instruments or test.minutes > 0
        if not made.instruments:
            assert not any(getattr(i, "instruments", ()) for i in check.inputs if not i.optional)
        if test.state in LIVE:
            bad = [r for r in (*BURNT, *WET, *DAMAGED) if here.yes(r)]
            assert bad == [], f"{test.title} while {bad}"
            assert not (tripped(here) and not proved(found, ranking.point))
        waiting = {r.title for r in found.rows if r.judgement.verdict is Verdict.OUTSIDE}
        own = {r.title for r in found.rows if r.subject in (ranking.point, made.points[0].panel)}
        assert not waiting & own & set(test.first)


def tripped(here: Situation) -> bool:
    return here.choice("breaker.trip_history.when") in ("at_once", "minutes", "hours", "random")


def proved(found: Assessment, point: str) -> bool:
    return found.row("run.insulation", point).judgement.verdict in (
        Verdict.WITHIN,
        Verdict.BORDERLINE,
    )
