"""Every declared check, judged on any record: total, consistent, and never good by omission."""

import math
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from random import Random
from typing import Final

import pytest
from hypothesis import HealthCheck, given, settings

from checks.assess import assess
from checks.check import (
    REPAIR,
    AnyInput,
    Check,
    Choice,
    Errors,
    Measurement,
    Rating,
    Series,
    Situation,
    Words,
    YesNo,
    latest_entries,
)
from checks.codes import profile
from checks.intake import read_visit
from checks.path import subjects
from checks.record import Coupler, Occupancy, Panel, Role, Site, SupplySystem, Visit, VisitKind
from checks.stations.all import BY_ID
from checks.verdict import Judgement, Verdict
from tests.builders import PANEL, visit
from tests.strategies import filled, full_entry, points_of, seeds, shapes, without

NEC: Final = profile("nec_2023")
FINDINGS: Final = (Verdict.OUTSIDE, Verdict.BORDERLINE)
EACH: Final = [pytest.param(check, id=check.id) for check in BY_ID.values()]
FITS: Final[dict[str, type[AnyInput]]] = {
    "choice": Choice,
    "yes": YesNo,
    "words": Words,
    "rating": Rating,
    "measured": Measurement,
    "series": Series,
}
thorough = settings(
    max_examples=150, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)


class Strict(Situation):
    """A situation that refuses a reference to what is not declared, or is of another kind.

    References that are put together while judging escape a look at the source; not this.
    """

    @property
    def points(self) -> tuple[Situation, ...]:
        return tuple(
            Strict(self.visit, self.code, s.subject, self._errors, self._latest)
            for s in super().points
        )

    def _must(self, accessor: str, reference: str) -> None:
        check, _, name = reference.rpartition(".")
        asked = BY_ID[check].input(name) if check in BY_ID else None
        assert asked is not None, f"{reference} is not declared"
        assert isinstance(asked, FITS[accessor]), f"{accessor} on {reference}"
        assert isinstance(asked, Series) is (accessor == "series"), f"{accessor} on {reference}"

    def choice(self, reference: str) -> str | None:
        self._must("choice", reference)
        return super().choice(reference)

    def yes(self, reference: str) -> bool | None:
        self._must("yes", reference)
        return super().yes(reference)

    def words(self, reference: str) -> str | None:
        self._must("words", reference)
        return super().words(reference)

    def rating(self, reference: str) -> float | None:
        self._must("rating", reference)
        return super().rating(reference)

    def measured(self, reference: str):  # type: ignore[no-untyped-def]
        self._must("measured", reference)
        return super().measured(reference)

    def series(self, reference: str):  # type: ignore[no-untyped-def]
        self._must("series", reference)
        return super().series(reference)

    def entry(self, check: str):  # type: ignore[no-untyped-def]
        assert check in BY_ID, f"{check} is not declared"
        return super().entry(check)


def judged(made: Visit) -> Iterator[tuple[Check, str, Judgement]]:
    """Every check that applies, at each of its subjects, judged strictly."""
    errors, latest = Errors(), latest_entries(made)
    for check in BY_ID.values():
        for at in subjects(check.station, made):
            situation = Strict(made, NEC, at, errors, latest)
            if not check.not_here_because(situation):
                yield check, at, check.judge(situation)


def numbers_in(judgement: Judgement) -> Iterator[str]:
    for amount in (judgement.measured, judgement.margin, *(x.amount for x in judgement.limits)):
        if amount is not None:
            yield amount.value
            yield amount.expanded or "0"
    yield from (limit.exact for limit in judgement.limits)


# -- on any record -------------------------------------------------------------------------------
@thorough
@given(shapes(most_points=2), seeds)
def test_every_judge_is_total_and_says_what_its_verdict_needs(shape: Visit, seed: int):
    made = filled(shape, Random(seed))
    latest = latest_entries(made)
    for check, at, found in judged(made):
        entry = latest.get((check.id, at))
        is_made = entry is not None and entry.not_done is None
        problems = [*at_odds(found), *unproven(found)]
        problems += [n for n in numbers_in(found) if not math.isfinite(float(n))]
        if not is_made and found.verdict is Verdict.WITHIN:
            problems.append("good without an entry")
        assert not problems, f"{check.id} at {at}, {found.explanation!r}: {problems}"


def at_odds(found: Judgement) -> Iterator[str]:
    """What a judgement says that does not go with its verdict."""
    if not found.explanation.strip():
        yield "no explanation"
    if found.verdict is Verdict.NOT_APPLICABLE:
        yield "not applicable is for `applies` to say"
    if (found.severity is not None) is not (found.verdict in FINDINGS):
        yield f"severity {found.severity} with {found.verdict}"
    if found.verdict is Verdict.OUTSIDE and not (found.remedy.strip() and found.why.strip()):
        yield "outside without a remedy or without why it matters"
    if found.verdict in FINDINGS and not (found.sources or found.limits):
        yield "a finding without a source"
    if found.verdict is Verdict.BORDERLINE and not found.settles.strip():
        yield "borderline without what settles it"
    if found.verdict is Verdict.WITHIN and (found.remedy or found.settles or found.why):
        yield "good with a remedy"


def unproven(found: Judgement) -> Iterator[str]:
    """The sources of a good judgement that can prove nothing."""
    if found.verdict is Verdict.WITHIN:
        sources = [limit.source for limit in found.limits] + list(found.sources)
        if not sources:
            yield "good without a source"
        yield from (f"good by {source}" for source in sources if not source.can_prove)


@thorough
@given(shapes(), seeds)
def test_what_the_door_lets_in_is_assessed_the_same_from_its_json(shape: Visit, seed: int):
    made = filled(shape, Random(seed))
    again = read_visit(made.model_dump(mode="json"))
    assert again == made
    assert assess(again, NEC).model_dump_json() == assess(made, NEC).model_dump_json()


# -- sampled records, shared by the tests of single checks ---------------------------------------
@cache
def samples(count: int = 160) -> tuple[Visit, ...]:
    """Visits of every make-up with every check entered in full, from fixed seeds."""
    made = []
    for seed in range(count):
        rng = Random(seed)
        system = rng.choice(list(SupplySystem))
        here = rng.choice(points_of(system))
        if rng.random() < 0.7:  # an adapter and a vehicle, so that their checks are seen often
            here = here.model_copy(
                update={"inlet": rng.choice([c for c in Coupler if c is not here.connector])}
            )
        shape = visit(
            kind=rng.choice(list(VisitKind)),
            role=rng.choice([Role.INSTALLS, Role.INSTALLS, Role.SERVES, Role.INSPECTS]),
            system=system,
            site=Site(name="Invented site", occupancy=rng.choice(list(Occupancy))),
            panels=(Panel(id=PANEL, name="Panel A", is_service_equipment=rng.random() < 0.5),),
            points=(here,),
        )
        made.append(filled(shape, rng, full_entry))
    return tuple(made)


def judge_at(check: Check, made: Visit) -> Judgement | None:
    """The judgement at the first subject; nothing where the check does not apply."""
    at = next(iter(subjects(check.station, made)), None)
    if at is None:
        return None
    situation = Situation(made, NEC, at)
    return None if check.not_here_because(situation) else check.judge(situation)


def others_of(made: Visit, check: Check, other: Visit) -> Visit:
    """A visit with its own entry of one check, and all else from another visit."""
    mine = [e for e in made.entries if e.check == check.id]
    rest = [e for e in other.entries if e.check != check.id]
    entries = [e.model_copy(update={"number": n}) for n, e in enumerate((*mine, *rest), 1)]
    return other.model_copy(update={"entries": tuple(entries)})


@pytest.mark.parametrize("check", EACH)
def test_a_check_reads_a_limit_a_second_entry_or_the_installation_or_says_why_not(check: Check):
    """With its own entry unchanged, something else must be able to change what it says."""
    here = [made for made in samples() if judge_at(check, made) is not None]
    limits, changes = 0, 0
    for made, other in pairwise(here):
        found = judge_at(check, made)
        moved = judge_at(check, others_of(made, check, other))
        if found is not None and moved is not None:
            limits += bool(found.limits)
            changes += said(found) != said(moved)
    assert len(here) > 2, "the samples do not reach this check"
    if check.no_limit_because:
        assert not limits, "it has limits after all: drop no_limit_because"
    else:
        assert limits or changes, "it reads nothing but its own answers: say no_limit_because"


def said(found: Judgement) -> tuple[object, ...]:
    return found.verdict, found.limits, found.severity, found.explanation, found.remedy


def measurements(check: Check) -> list[str]:
    return [i.name for i in check.inputs if isinstance(i, Measurement)]


@pytest.mark.parametrize(
    "check", [pytest.param(c, id=c.id) for c in BY_ID.values() if measurements(c)]
)
def test_limits_are_in_view_before_the_number_is_typed(check: Check):
    with_limits, blind = 0, []
    for made in samples():
        found = judge_at(check, made)
        if found is None or not found.limits:
            continue
        with_limits += 1
        before = judge_at(check, without(made, check.id, measurements(check)))
        assert before is not None
        if not before.limits:
            blind.append(f"{found.explanation!r} has {[str(x) for x in found.limits]}")
    assert len(blind) * 2 <= with_limits, blind[:3]
    assert with_limits, "no sample gives it a limit"


@pytest.mark.parametrize("check", EACH)
def test_nothing_becomes_good_by_leaving_an_answer_out(check: Check):
    """An answer fewer, here or at any other check, never turns `not measured` into `within`."""
    freed = []
    for made in samples()[:60]:
        entry = next((e for e in made.entries if e.check == check.id), None)
        for name in [a.input for a in entry.answers] if entry else []:
            partial = without(made, check.id, [name])
            found = judge_at(check, partial)
            full = judge_at(check, made)
            if full is None or found is None:
                continue
            if found.verdict is Verdict.WITHIN and full.verdict is Verdict.NOT_MEASURED:
                freed.append(name)
    assert sorted(set(freed)) == []


@pytest.mark.parametrize("check", EACH)
def test_nothing_becomes_good_by_leaving_another_check_out(check: Check):
    freed = set()
    for made in samples()[:100]:
        full = judge_at(check, made)
        if full is None or full.verdict is not Verdict.NOT_MEASURED:
            continue
        # without its repair a part is not replaced, and what was said of it counts again
        for other in {e.check for e in made.entries} - {check.id, REPAIR}:
            fewer = made.model_copy(
                update={"entries": tuple(e for e in made.entries if e.check != other)}
            )
            found = judge_at(check, fewer)
            if found is not None and found.verdict is Verdict.WITHIN:
                freed.add(other)
    assert sorted(freed) == []
