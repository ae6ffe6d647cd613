"""What a judgement is worth once what it rests on is owed again: never within."""

from typing import Final

from checks.check import (
    Check,
    Key,
    Situation,
    how_bad,
    not_measured,
    unfit_tools,
    unproved,
)
from checks.stations.all import BY_ID
from checks.verdict import Judgement, Verdict

_FOUND: Final = (Verdict.OUTSIDE, Verdict.BORDERLINE)
_OPEN: Final = (Verdict.NOT_MEASURED, Verdict.NOT_APPLICABLE)
_ITSELF: Final = {
    "breaker": "The breaker was replaced since this was checked: check it again",
    "bus": "The panel's bus was replaced since this was checked: check it again",
    "receptacle": "The receptacle was replaced since this was checked: check it again",
    "charger": "The charger was replaced since this was checked: check it again",
}
_OPEN_QUESTION: Final = "asked"
_ALONG: Final = {check: place for place, check in enumerate(BY_ID)}


def judge(check: Check, s: Situation) -> Judgement:
    """Judge a check by what was said of what is there.

    What rests on a part that is gone, on what was looked at under a fact that was corrected since,
    or on an entry that leaves open what is asked now, is not measured, and its limits are reckoned
    without it. What was found before stays found until it is measured again.

    Parameters
    ----------
    check : Check
        What is judged.
    s : Situation
        Where.
    """
    now = _judged(check, s)
    owed = _owed(s)
    if not owed:
        return now
    was = _judged(check, _before(check, s, owed))
    if was.verdict in _FOUND and how_bad(was) < how_bad(now) and _is_older(check, s, owed):
        words = f"{was.explanation}. {_words(check, s, owed)}"
        return was.model_copy(update={"explanation": words})
    own = s.gone.get((check.id, s.subject))
    if now.verdict in _FOUND and own is not None and own.is_open:
        return now.model_copy(update={"explanation": f"{now.explanation}. {own.said}"})
    if now.verdict in _FOUND or (now == was and now.verdict in _OPEN):
        return now
    return _open(check, s, owed, now, was)


def _before(check: Check, s: Situation, owed: tuple[Key, ...]) -> Situation:
    """Return the place as it was judged before any of it was owed."""
    made = s.as_it_was.entry(check.id)
    if made is None or not any(s.gone[key].is_open for key in owed):
        return s.as_it_was
    return s.as_it_stood(made.number)


def _open(
    check: Check, s: Situation, owed: tuple[Key, ...], now: Judgement, was: Judgement
) -> Judgement:
    """Return that it cannot be judged before the new part was read, with what else is missing."""
    words = _words(check, s, owed)
    if now.verdict is not Verdict.NOT_MEASURED:
        return not_measured(words, now.limits, now.sources)
    if was.verdict is not Verdict.WITHIN and (check.id, s.subject) not in owed:
        words = f"{now.explanation}. {words}"
    return now.model_copy(update={"explanation": words})


def owed_words(s: Situation) -> str:
    """Say what is owed of new parts that was looked for here; empty where nothing is."""
    return _rests(s, _owed(s))


def _judged(check: Check, s: Situation) -> Judgement:
    why_not = check.not_here_because(s)
    if why_not:
        return Judgement(verdict=Verdict.NOT_APPLICABLE, explanation=why_not)
    return unproved(check.judge(s), s.unfit | unfit_tools(s, check))


def _owed(s: Situation) -> tuple[Key, ...]:
    """Return what was looked for, and was said of a part that is gone only; along the path.

    What has no place here, and had none, cannot be read of the new part either.
    """

    def is_here(check: str, subject: str) -> bool:
        there = s.seen_from(subject)
        return not all(BY_ID[check].not_here_because(x) for x in (there, there.as_it_was))

    return tuple(sorted((k for k in s.missed if is_here(*k)), key=lambda k: (_ALONG[k[0]], k[1])))


def _is_older(check: Check, s: Situation, owed: tuple[Key, ...]) -> bool:
    """Whether nothing was read of this check since any of it is owed.

    Nothing tells when a question came: it counts as come last.
    """
    made, since = s.as_it_was.entry(check.id), [s.gone[key] for key in owed]
    is_open = any(gone.is_open for gone in since)
    return made is None or is_open or made.number < max(gone.number for gone in since)


def _words(check: Check, s: Situation, owed: tuple[Key, ...]) -> str:
    own = (check.id, s.subject)
    return s.gone[own].said or _ITSELF[s.gone[own].part] if own in owed else _rests(s, owed)


def _rests(s: Situation, owed: tuple[Key, ...]) -> str:
    """Say which parts were replaced, and what is to be checked on the new ones."""
    titles: dict[tuple[str, str], list[str]] = {}
    for key in owed:
        part = _OPEN_QUESTION if s.gone[key].is_open else s.gone[key].part
        titles.setdefault((key[1], part), []).append(BY_ID[key[0]].title)
    said = []
    for (subject, part), of in titles.items():
        words = _first(part, ", ".join(of))
        said.append(words if subject == s.subject else f"{s.visit.name_of(subject)}: {words}")
    return ". ".join(said)


def _first(part: str, titles: str) -> str:
    if part == _OPEN_QUESTION:
        return f"A question came up since; first make again: {titles}"
    if not part:
        return f"It rests on what was looked at before a correction; first make again: {titles}"
    if part == "breaker":
        return f"The breaker was replaced since; first check on the new one: {titles}"
    if part == "bus":
        return f"The panel's bus was replaced since; first check on the new one: {titles}"
    if part == "receptacle":
        return f"The receptacle was replaced since; first check on the new one: {titles}"
    return f"The charger was replaced since; first check on the new one: {titles}"
