"""Correcting a fact that the visit was begun with: what stood before is kept, nothing is lost."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Final

from checks.assess import Assessment, assess, is_judged_anew, lost
from checks.check import CircuitState, Words
from checks.check.corrected import is_moved
from checks.codes import profile
from checks.intake import read_visit
from checks.path import path, title
from checks.record import ChargingPoint, Correction, Visit
from checks.verdict import Verdict
from fieldapp.walk import circuit, facts
from fieldapp.walk.half_made import CORRECTED, HalfMade
from fieldapp.walk.on_disk import danger_unfinished
from fieldapp.walk.words import worded

_FIELDS: Final = ("site", "system", "code", "panels", "points")


@dataclass(frozen=True)
class Consequence:
    """What a correction means for the visit, told before it is made.

    Parameters
    ----------
    again : tuple of str
        Titles of the checks that are owed again: they looked at what is not there.
    asked_no_more : tuple of str
        Titles of the checks that are asked no more; their entries stay in the record.
    found : tuple of str
        What was found that is a danger or a warning, and would be neither any more.
    anew : tuple of str
        The same of what is only judged by another code or supply.
    new, gone : tuple of str
        Stations that come to the path of the point, and that go from it.
    dead_first : tuple of str
        Charging points whose circuit is live, and must be made dead before anything else.
    """

    again: tuple[str, ...] = ()
    asked_no_more: tuple[str, ...] = ()
    found: tuple[str, ...] = ()
    anew: tuple[str, ...] = ()
    new: tuple[str, ...] = ()
    gone: tuple[str, ...] = ()
    dead_first: tuple[str, ...] = ()

    @property
    def is_dead_first(self) -> bool:
        """Whether a circuit is live that must be made dead before anything else."""
        return bool(self.dead_first)

    def __bool__(self) -> bool:
        """Whether anything hangs on it."""
        told = (self.again, self.asked_no_more, self.found, self.anew, self.new, self.gone)
        return any((*told, self.dead_first))


class Correcting(HalfMade):
    """What was said when the visit was begun, corrected while it is open."""

    @property
    def asks_vehicle(self) -> str:
        """The key of the vehicle's inlet here where nobody was asked for it yet; else empty."""
        return "" if self.point.is_vehicle_asked else f"{facts.INLET}@{self.point_id}"

    def stands(self, key: str) -> str:
        """Return a fact as its question's answer; empty where nobody said it yet."""
        fact, subject = facts.found(key, self.visit)
        return fact.said(self.visit, subject)

    def consequence(self, key: str, value: str) -> Consequence:
        """Say what a correction would mean; nothing is changed by it."""
        changed = self._corrected(key, value)
        if not changed:
            return Consequence()
        tried = read_visit(self.visit.model_copy(update=changed).model_dump(mode="json"))
        return _consequence(self.visit, self.assessment, tried)

    def correct(self, key: str, value: str) -> None:
        """Correct a fact; what stood before is kept, and where nothing changes nothing is.

        Parameters
        ----------
        key : str
            Which fact, as `fieldapp.walk.facts` names it.
        value : str
            The answer to its question.

        Raises
        ------
        WalkError
            A danger was answered in a check that looks at what is corrected, and it is not made.
        """
        changed = self._corrected(key, value)
        if not changed:
            return
        with self._all_or_nothing():
            self._leave()
            installed = {name: now for name, now in changed.items() if name in _FIELDS}
            self._part(installed, changed.get("corrections", ())[len(self.visit.corrections) :])
            self._change(**changed)

    def _corrected(self, key: str, value: str) -> dict[str, Any]:
        """Return the fields that change, with the correction; empty where none does."""
        visit = self.visit
        fact, subject = facts.found(key, visit)
        if isinstance(fact.asked, Words):
            value = worded(value, fact.asked.label)
        now = visit.model_copy(update=fact.changed(visit, subject, value))
        if now == visit:
            return {}
        changed = {name: getattr(now, name) for name in _FIELDS if _is(now, visit, name)}
        was_asked = fact.name != facts.INLET or visit.point(subject).is_vehicle_asked
        if was_asked:
            made = _correction(visit, now, number=self._next_number(), at=self._stamp())
            changed["corrections"] = (*visit.corrections, made)
        return changed

    def _take_back_correction(self, last: Correction) -> None:
        """Put back what stood before; a circuit that was proved dead then is proved anew."""
        before = self.visit.as_it_stood(last.number - 1)
        states = list(self.visit.states)
        for point in (p.id for p in last.points if is_moved(p, self.visit.point(p.id))):
            found = circuit.last_state(s for s in states if s.point == point)
            if found is not None and found.state == CircuitState.DEAD.value:
                # dead as newly made, not as proved: the lock may have been moved meanwhile
                states[states.index(found)] = found.model_copy(update={"number": last.number})
        kept = tuple(c for c in self.visit.corrections if c is not last)
        back = {name: getattr(before, name) for name in _FIELDS}
        back["points"] = tuple(_with_vehicle(p, self.visit.point(p.id)) for p in before.points)
        before = before.model_copy(update=back)
        undone = _correction(self.visit, before, number=self._next_number(), at=self._stamp())
        self._part(back, (undone,))
        self._change(**back, corrections=kept, states=tuple(states))

    def _part(self, installed: dict[str, Any], made: tuple[Correction, ...]) -> None:
        """Turn what was half made on what is corrected into notes; a danger is finished first."""
        for _, begun in self._loosen(CORRECTED, corrections=made, **installed):
            raise danger_unfinished(begun)


def _with_vehicle(before: ChargingPoint, now: ChargingPoint) -> ChargingPoint:
    """Return a point as it stood; which vehicle is here was first said since, and stays said."""
    if before.is_vehicle_asked or not now.is_vehicle_asked:
        return before
    return before.model_copy(update={"inlet": now.inlet, "is_vehicle_asked": True})


def _is(now: Visit, before: Visit, name: str) -> bool:
    return bool(getattr(now, name) != getattr(before, name))


def _correction(before: Visit, now: Visit, *, number: int, at: str) -> Correction:
    """Return what stood before, as far as it is not what stands now."""
    return Correction(
        number=number,
        at=at,
        site=before.site if _is(now, before, "site") else None,
        system=before.system if _is(now, before, "system") else None,
        code=before.code if _is(now, before, "code") else None,
        panels=tuple(p for p in before.panels if p not in now.panels),
        points=tuple(p for p in before.points if p not in now.points),
    )


def _consequence(before: Visit, was: Assessment, tried: Visit) -> Consequence:
    now = assess(tried, profile(tried.code), with_set_aside=False)
    rows = {(r.check, r.subject): r for r in now.rows}
    known = {(r.check, r.subject) for r in was.rows if r.is_owed_again}
    again = [r.title for key, r in rows.items() if r.is_owed_again and key not in known]
    asked_no_more = []
    for row in was.rows:
        here = rows.get((row.check, row.subject))
        is_asked = here is not None and here.judgement.verdict is not Verdict.NOT_APPLICABLE
        if row.entry is None or is_asked or row.judgement.verdict is Verdict.NOT_APPLICABLE:
            continue
        asked_no_more.append(row.title)
    made = _correction(before, tried, number=1, at=before.started)
    found: dict[bool, list[str]] = {False: [], True: []}
    for each in lost(was, now):
        row = each.row
        said = f"{row.title} ({before.name_of(row.subject)}): {row.judgement.explanation}"
        found[is_judged_anew(each, now, made)].append(said)
    points = tuple(p.id for p in before.points if p != tried.point(p.id))
    return Consequence(
        again=tuple(dict.fromkeys(again)),
        asked_no_more=tuple(dict.fromkeys(asked_no_more)),
        found=tuple(found[False]),
        anew=tuple(found[True]),
        new=tuple(dict.fromkeys(_stations(tried, before, points))),
        gone=tuple(dict.fromkeys(_stations(before, tried, points))),
        dead_first=tuple(p.name for p in tried.points if _is_shut(before, was, now, p.id)),
    )


def _is_shut(before: Visit, was: Assessment, now: Assessment, point_id: str) -> bool:
    """Return whether a live circuit is in a state that is not open to it any more."""
    state = circuit.state_now(before, point_id)
    if state is None or state is CircuitState.DEAD:
        return False
    was_open = circuit.gate(was, point_id, state).is_open
    return was_open and not circuit.gate(now, point_id, state).is_open


def _stations(here: Visit, other: Visit, points: tuple[str, ...]) -> Iterator[str]:
    """Yield the titles of the stations that are on the path here and not in the other."""
    for each in points:
        there = path(other.point(each))
        yield from (title(s, here.point(each)) for s in path(here.point(each)) if s not in there)
