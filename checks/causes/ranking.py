"""From a visit's entries and judgements to a ranking of causes, with words for each."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Final

from checks.causes.bayes import (
    Column,
    Found,
    Table,
    factors,
    normalized,
    of_each,
    table,
    weigh,
)
from checks.causes.cause import Cause
from checks.causes.clue import View
from checks.causes.clues import CLUES
from checks.causes.explaining import SAID_RATIO, SYMPTOMS
from checks.causes.library import CAUSES
from checks.causes.model import (
    Ground,
    NextTest,
    Prospect,
    RankedCause,
    Ranking,
    Standing,
    Status,
    Verification,
    Weight,
)
from checks.causes.next_test import (
    Candidate,
    after,
    asked_first,
    candidates,
    choose,
    one_or_none,
)
from checks.causes.safety import bars
from checks.check import CircuitState
from checks.path import subject
from checks.stations.all import BY_ID

PROVEN_SHARE: Final = 0.8  # and the test that proves it was made
LIKELY_SHARE: Final = 0.5
POSSIBLE_SHARE: Final = 0.05
SHOWN_SHARE: Final = 0.005
STRONG_RATIO: Final = 5.0
CLEAR_RATIO: Final = 2.0
BY_CAUSE: Final[Mapping[str, Cause]] = {c.id: c for c in CAUSES}


@cache
def library_table(causes: frozenset[str] = frozenset(BY_CAUSE)) -> Table:
    """Return the table of the library, or of the causes there can be, worked out once each."""
    return table([c for c in CAUSES if c.id in causes], CLUES)


def observed(view: View) -> dict[str, str]:
    """Return the outcome of every clue that the visit gives, in the library's order."""
    read = {clue.id: clue.read(view) for clue in CLUES}
    return {name: outcome for name, outcome in read.items() if outcome is not None}


def rank(view: View, now: View, waiting: Mapping[CircuitState, Sequence[str]]) -> Ranking:
    """Rank the causes of one charging point's fault.

    Pure and deterministic; whatever order the entries were made in.

    Parameters
    ----------
    view : View
        A charging point as it was found, before anything was mended.
    now : View
        The point as it is: decides what may be tested, and speaks for no cause.
    waiting : Mapping
        By circuit state, the checks that keep it shut or come first in it, as it is.

    Returns
    -------
    Ranking
        The likeliest first, with what speaks for and against each, and the next best test.

    References
    ----------
    Bayes' rule; see `checks.causes.bayes`.
    """
    here = frozenset(c.id for c in CAUSES if c.where(view.situation))
    chart, found = library_table(here), observed(view)
    said = factors(chart, found)
    masses = weigh(chart, said.values())
    state = Search(view, now, chart, found, said, masses, of_each(chart, masses))
    causes = _ranked(state)
    proven = [c for c in causes[:1] if c.standing is Standing.PROVEN]
    is_told = any(view.situation.entry(c) is not None for c in SYMPTOMS)
    alone = one_or_none(chart, masses)
    test = None if proven else asked_first(chart, found, alone, now)
    if test is None and not proven:
        test = choose(candidates(chart, found, alone, now, waiting))
    status = _status(bool(proven), test is not None, is_told)
    point = view.situation.point
    return Ranking(
        point=point.id,
        name=point.name,
        status=status,
        says=_sentence(status, causes, test),
        causes=causes,
        two_at_once_pct=round(100 * sum(masses[chart.alone :])),
        likeliest_two=_likeliest_two(chart, masses),
        none_pct=round(100 * masses[0]),
        next_test=None if test is None else _shown_test(state, test),
        barred=tuple(bars(now)),
    )


@dataclass(frozen=True)
class Search:
    """All that is known while one ranking is made.

    Parameters
    ----------
    view, now : View
        Entries and judgements, as found and as they are.
    chart : Table
        The library.
    found : Mapping
        Outcome of each clue.
    said : Mapping
        What each group of clues says about each hypothesis. [-]
    masses : tuple of float
        Share of each hypothesis. [-]
    shares : Mapping
        Share of each cause. [-]
    """

    view: View
    now: View
    chart: Table
    found: Found
    said: Mapping[str, Column]
    masses: Column
    shares: Mapping[str, float]


def _likeliest_two(chart: Table, masses: Column) -> tuple[str, ...]:
    best = max(range(chart.alone, len(masses)), key=lambda i: masses[i])
    if masses[best] < POSSIBLE_SHARE:
        return ()
    return tuple(BY_CAUSE[chart.causes[i]].title for i in chart.members[best])


def _ranked(state: Search) -> tuple[RankedCause, ...]:
    order = sorted(
        state.chart.causes, key=lambda c: -state.shares[c]
    )  # equal ones in the library's order
    shown = [c for c in order if state.shares[c] >= SHOWN_SHARE]
    odds = {clue: _odds_ratios(state, clue) for clue in state.found}
    return tuple(_one(state, BY_CAUSE[c], odds) for c in shown)


def _odds_ratios(state: Search, clue: str) -> dict[str, float]:
    """Return by how much a finding changes the odds of each cause, all else as it is. [-]."""
    before = of_each(state.chart, _masses_if(state, clue, None))
    return {c: _odds(state.shares[c]) / _odds(before[c]) for c in state.chart.causes}


def _masses_if(state: Search, clue: str, outcome: str | None) -> Column:
    """Return every share if a clue were read so, or not at all, all else as it is. [-]."""
    kind = state.chart.clues[clue].kind
    own = {c: o for c, o in state.found.items() if state.chart.clues[c].kind == kind and c != clue}
    if outcome is not None:
        own[clue] = outcome
    says_nothing = (1.0,) * len(state.masses)
    now = state.said.get(kind, says_nothing)
    then = factors(state.chart, own).get(kind, says_nothing)
    return normalized(tuple(m * t / n for m, t, n in zip(state.masses, then, now, strict=True)))


def _odds(share: float) -> float:
    return share / max(1.0 - share, 1e-12)


def _one(state: Search, cause: Cause, odds: Mapping[str, Mapping[str, float]]) -> RankedCause:
    share = state.shares[cause.id]
    ratios = {clue: odds[clue][cause.id] for clue in odds if cause.says(clue)}
    alone = 1 + state.chart.causes.index(cause.id)
    declared = {c: state.chart.ratios[c][state.found[c]][alone] for c in ratios}
    by_strength = sorted(ratios, key=lambda c: -max(ratios[c], 1 / ratios[c]))
    grounds = {c: _ground(state, cause, c, ratios[c]) for c in by_strength}
    settles = state.chart.clues[cause.proofs[0].clue].check
    return RankedCause(
        cause=cause.id,
        title=cause.title,
        station=cause.station,
        subject=subject(cause.station, state.view.situation.point),
        standing=_standing(state, cause, share),
        share=f"{share:.4f}",
        share_pct=round(100 * share),
        explanation=cause.explanation,
        remedy=cause.remedy,
        severity=cause.severity,
        speaks_for=tuple(g for c, g in grounds.items() if min(ratios[c], declared[c]) > SAID_RATIO),
        speaks_against=tuple(
            g for c, g in grounds.items() if max(ratios[c], declared[c]) < 1 / SAID_RATIO
        ),
        settles=settles,
        settles_title=BY_ID[settles].title,
        verify=tuple(_verification(state, c) for c in cause.verify if state.now.asks(c)),
        needs=cause.needs if cause.needs_where(state.now.situation) else (),
    )


def _ground(state: Search, cause: Cause, clue: str, ratio: float) -> Ground:
    declared = state.chart.clues[clue]
    judged = state.view.judgements.get(declared.check)
    entry = state.view.situation.entry(declared.check)
    strength = max(ratio, 1 / ratio)
    weight = Weight.SLIGHT
    if strength >= CLEAR_RATIO:
        weight = Weight.STRONG if strength >= STRONG_RATIO else Weight.CLEAR
    told = cause.says(clue)
    outcome = state.found[clue]
    basis = told[outcome] if outcome in told else next(iter(told.values()))
    return Ground(
        words=declared.outcome(outcome).words,
        detail="" if judged is None or entry is None else judged.explanation,
        weight=weight,
        check=declared.check,
        subject="" if entry is None else entry.subject,
        basis=basis.basis,
    )


def _standing(state: Search, cause: Cause, share: float) -> Standing:
    is_shown = any(state.found.get(p.clue) == p.outcome for p in cause.proofs)
    if is_shown and share >= PROVEN_SHARE:
        return Standing.PROVEN
    if share >= LIKELY_SHARE:
        return Standing.LIKELY
    return Standing.POSSIBLE if share >= POSSIBLE_SHARE else Standing.UNLIKELY


def _verification(state: Search, check: str) -> Verification:
    entry = state.now.situation.entry(check)
    is_repeated = entry is not None and entry.after_mending
    return Verification(
        check=check,
        title=BY_ID[check].title,
        before=_made(state.view, check),
        after=_made(state.now, check) if is_repeated else "",
        is_repeated=is_repeated,
    )


def _made(view: View, check: str) -> str:
    """Return what a check says; empty where it was not made, or has no place here."""
    judged = view.judgements.get(check)
    is_made = judged is not None and view.situation.entry(check) is not None
    return judged.explanation if judged is not None and is_made else ""


def _status(is_proven: bool, has_test: bool, is_told: bool) -> Status:
    if is_proven:
        return Status.PROVEN
    if not is_told:
        return Status.UNTOLD
    return Status.OPEN if has_test else Status.STUCK


def _sentence(status: Status, causes: Sequence[RankedCause], test: Candidate | None) -> str:
    first = causes[0] if causes else None
    leads = "" if first is None else f"{first.title} ({first.share_pct} %)"
    if status is Status.PROVEN:
        return f"Proven: {leads}. Next its remedy, then the readings that proved it again"
    if status is Status.UNTOLD:
        return "No symptom is recorded yet: ask what happens, and when"
    if test is not None:
        return f"Likeliest: {leads}. Next: {test.check.title.lower()}"
    rest = [f"{c.title.lower()} ({c.share_pct} %)" for c in causes[:3]]
    return (
        f"What is left cannot be told apart here: {', '.join(rest)}. No test that may be made now "
        "tells more"
    )


def _shown_test(state: Search, test: Candidate) -> NextTest:
    ahead = after(state.chart, state.found, test.clue, one_or_none(state.chart, state.masses))
    check = test.check
    prospects = [
        Prospect(
            words=test.clue.outcome(value).words,
            chance_pct=round(100 * chance),
            meaning=_meaning(state.chart, _masses_if(state, test.clue.id, value)),
        )
        for value, (chance, _) in ahead.items()
    ]
    return NextTest(
        check=check.id,
        title=check.title,
        how=check.how,
        subject=subject(check.station, state.view.situation.point),
        state=check.state,
        first=tuple(BY_ID[c].title for c in test.way.first),
        minutes=test.minutes,
        bits=f"{test.bits:.3f}",
        prospects=tuple(sorted(prospects, key=lambda p: -p.chance_pct)),
    )


def _meaning(chart: Table, masses: Column) -> str:
    shares = of_each(chart, masses)
    best = max(shares, key=lambda c: shares[c])
    if masses[0] > shares[best]:
        return f"Then it is likeliest none of these, {100 * masses[0]:.0f} %"
    title = BY_CAUSE[best].title
    return f"Then likeliest: {title[0].lower()}{title[1:]}, {100 * shares[best]:.0f} %"
