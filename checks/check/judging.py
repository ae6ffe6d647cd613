"""What a judge returns: not measured yet, seen, or compared with computed limits."""

from collections.abc import Iterable, Sequence
from typing import Final

from checks.quantity import amount, nominal
from checks.source import Source
from checks.units import Number, difference_unit, to_si
from checks.verdict import (
    WORST_FIRST,
    Judgement,
    Limit,
    Severity,
    Side,
    Tracked,
    Verdict,
    VoltageStep,
    decide,
    is_met,
    margin,
)

FIT_METER: Final = "Repeat it with an instrument in calibration and in its range"
UNFIT_METER: Final = (
    "Past its calibration or its range an instrument may be off by more than it says"
)


def not_measured(
    explanation: str, limits: Sequence[Limit] = (), sources: Sequence[Source] = ()
) -> Judgement:
    """Return the judgement of a check that lacks an entry; its limits stay in view."""
    return Judgement(
        verdict=Verdict.NOT_MEASURED,
        explanation=explanation,
        limits=tuple(limits),
        sources=tuple(sources),
    )


def known_part(judged: Judgement, missing: str) -> Judgement:
    """Return what is left of a judgement of a sum while a term of it is missing.

    What is known is the least that it comes to: beyond the limit already it stays outside, and
    everything else is not measured.

    Parameters
    ----------
    judged : Judgement
        Of the terms that are known.
    missing : str
        The words for what is missing; empty where nothing is, and it stands as it is.
    """
    if not missing:
        return judged
    if judged.verdict is Verdict.OUTSIDE:
        words = f"{judged.explanation}. More is to be added. {missing}"
        return judged.model_copy(update={"explanation": words})
    return not_measured(missing, judged.limits, judged.sources)


def seen(
    good: bool,
    *,
    explanation: str,
    source: Source,
    why: str = "",
    remedy: str = "",
    severity: Severity = Severity.WARNING,
    telling: str = "",
) -> Judgement:
    """Return the judgement of something that is seen or read off, without a measured limit.

    What is good by a rule that is not known well enough has nothing to mend: the rule is to be
    read.
    """
    verdict = Verdict.OUTSIDE
    if good:
        verdict = Verdict.WITHIN if source.can_prove else Verdict.BORDERLINE
    return Judgement(
        verdict=verdict,
        explanation=explanation,
        why="" if verdict is Verdict.WITHIN else why,
        remedy="" if good else remedy,
        settles="" if verdict is not Verdict.BORDERLINE else "Read the rule in the adopted edition",
        severity=_severity(verdict, Severity.NOTICE if good else severity),
        sources=(source,),
        telling=telling,
    )


def unsettled(
    explanation: str,
    settles: str,
    *,
    remedy: str = "",
    why: str = "",
    severity: Severity = Severity.CAUTION,
    limits: Sequence[Limit] = (),
    sources: Sequence[Source] = (),
    working: Sequence[str] = (),
) -> Judgement:
    """Return a borderline judgement: what no table answers, or what is read two ways."""
    return Judgement(
        verdict=Verdict.BORDERLINE,
        explanation=explanation,
        limits=tuple(limits),
        why=why,
        remedy=remedy,
        settles=settles,
        severity=_severity(Verdict.BORDERLINE, severity),
        sources=tuple(sources),
        working=tuple(working),
    )


def compare(
    value: Number,
    symbol: str,
    limits: Sequence[Limit],
    *,
    explanation: str,
    why: str,
    remedy: str,
    severity: Severity,
    settles: str = "Repeat with a more accurate instrument or a better range",
    of: str = "",
    telling: str = "",
    working: Sequence[str] = (),
    sources: Sequence[Source] = (),
    steps: Sequence[VoltageStep] = (),
    is_tracked: bool = False,
    at_a: float | None = None,
) -> Judgement:
    """Return the judgement of a value against computed limits, by the decision rule.

    Parameters
    ----------
    value : Number
        In the unit used inside, with its uncertainty.
    symbol : str
        The unit it is shown in.
    limits : sequence of Limit
        All must hold.
    explanation, why, remedy, settles : str
        The words of the judgement; remedy and why are kept for a finding only. A value that meets
        every limit, of which one is not known well enough, has nothing to mend; one that meets
        them as read, and only its interval does not, is settled before anything is mended, unless
        what lies beyond is a danger.
    severity : Severity
        When outside; a borderline one is never worse than ``caution``, and a ``notice`` where only
        the limit is in doubt.
    is_tracked : bool
        The value, at conditions that compare, is followed from visit to visit under its ``of``.
    at_a : float, optional
        The current that a tracked value was brought to. [A]
    """
    verdict = decide(value, limits)
    shown = amount(value, symbol, of=of)
    is_good, is_all_met = verdict is Verdict.WITHIN, all(is_met(value, x) for x in limits)
    settling, mending = "", "" if is_all_met else remedy
    if verdict is Verdict.BORDERLINE:
        settling = _settles(value, limits, settles)
        is_met_as_read = all(is_met(nominal(value), x) for x in limits)
        if mending and is_met_as_read and severity is not Severity.DANGER:
            settling, mending = f"{settling}. Where that cannot be done: {mending}", ""
    return Judgement(
        verdict=verdict,
        explanation=explanation,
        measured=shown,
        limits=tuple(limits),
        margin=margin(value, limits, difference_unit(symbol)),
        why="" if is_good else why,
        remedy=mending,
        settles=settling,
        severity=_severity(verdict, Severity.NOTICE if is_all_met else severity),
        sources=tuple(sources),
        working=tuple(working),
        telling=telling or f"{shown.value} {shown.unit}",
        steps=tuple(steps),
        tracked=(tracked(value, symbol, limits, of=of, at_a=at_a),) if is_tracked else (),
    )


def tracked(
    value: Number,
    symbol: str,
    limits: Sequence[Limit],
    *,
    of: str,
    at_a: float | None = None,
) -> Tracked:
    """Return a quantity that is followed from visit to visit, judged here or not.

    A rise of temperature names the current it was brought to: another visit's is brought there.
    """
    at = None if at_a is None else amount(at_a, "A")
    return Tracked(amount=amount(value, symbol, of=of), limits=tuple(limits), at=at)


def together(parts: Sequence[Judgement], *, good: str = "", telling: str = "") -> Judgement:
    """Return the one judgement of a check that has several parts: the worst decides.

    Of several measured ones that are as bad, the one nearest to its limit does; the remedies of
    all that are as bad stand.

    Parameters
    ----------
    parts : sequence of Judgement
        At least one; limits, sources, working, steps and tracked of all are kept, the deciding
        one's limits and sources first.
    good : str
        The explanation when every part is within; without it, the parts' own.
    telling : str
        What the station shows; without it, what the deciding part tells.
    """
    worst = min(map(how_bad, parts))
    as_bad = [p for p in parts if how_bad(p) == worst]
    measured = [p for p in as_bad if p.measured is not None and p.limits]
    deciding = min(measured, key=_room) if as_bad[0] in measured else as_bad[0]
    same = [p.explanation for p in parts if p.verdict is deciding.verdict]
    same.sort(key=lambda words: words != deciding.explanation)
    remedies = [p.remedy for p in (deciding, *as_bad) if p.remedy]
    is_good = deciding.verdict is Verdict.WITHIN and good
    return deciding.model_copy(
        update={
            "explanation": good if is_good else ". ".join(dict.fromkeys(same)),
            "remedy": ". ".join(dict.fromkeys(remedies)),
            "limits": tuple(dict.fromkeys(x for p in (deciding, *parts) for x in p.limits)),
            "sources": tuple(dict.fromkeys(x for p in (deciding, *parts) for x in p.sources)),
            "working": tuple(dict.fromkeys(line for p in parts for line in p.working)),
            "steps": tuple(step for p in parts for step in p.steps),
            "heating": next((p.heating for p in parts if p.heating is not None), None),
            "tracked": tuple(each for p in parts for each in p.tracked),
            "telling": telling or deciding.telling,
        }
    )


def how_bad(judged: Judgement) -> tuple[int, int]:
    """Return how bad a judgement is, the worst first."""
    order = list(Severity)
    severity = len(order) if judged.severity is None else order.index(judged.severity)
    return WORST_FIRST.index(judged.verdict), severity


def _room(part: Judgement) -> float:
    """Return the share of its nearest limit that a measured part has left; below 0 beyond it."""
    assert part.measured is not None
    value = nominal(to_si(float(part.measured.value), part.measured.unit))
    rooms = (
        ((x.value - value) * (1 if x.side is Side.AT_MOST else -1), abs(x.value))
        for x in part.limits
    )
    return min(room / max(limit, 1e-9) for room, limit in rooms)


def unproved(judged: Judgement, reasons: Iterable[str]) -> Judgement:
    """Return what is left of a judgement whose readings an unfit instrument took: never within.

    Parameters
    ----------
    judged : Judgement
        As the judge said it.
    reasons : iterable of str
        Why its readings are not proved; empty, and it stands as it is.
    """
    doubts = "; ".join(sorted(reasons))
    if not doubts or judged.verdict in (Verdict.NOT_MEASURED, Verdict.NOT_APPLICABLE):
        return judged
    is_within = judged.verdict is Verdict.WITHIN
    settles = "; ".join(x for x in (judged.settles, FIT_METER) if x)
    return judged.model_copy(
        update={
            "verdict": Verdict.BORDERLINE if is_within else judged.verdict,
            "explanation": f"{judged.explanation}; {doubts}",
            "settles": "" if judged.verdict is Verdict.OUTSIDE else settles,
            "severity": judged.severity or Severity.NOTICE,
            "why": judged.why or UNFIT_METER,
            "remedy": judged.remedy or FIT_METER,
        }
    )


def _settles(value: Number, limits: Sequence[Limit], otherwise: str) -> str:
    unproven = [
        limit
        for limit in limits
        if not limit.source.can_prove and decide(nominal(value), [limit]) is Verdict.BORDERLINE
    ]
    if unproven:
        return f"The limit is known {unproven[0].source.basis}: read it in the adopted edition"
    return otherwise


def _severity(verdict: Verdict, worst: Severity) -> Severity | None:
    if verdict is Verdict.OUTSIDE:
        return worst
    if verdict is Verdict.BORDERLINE:
        order = list(Severity)
        return order[max(order.index(worst), order.index(Severity.CAUTION))]
    return None
