"""A charging point or a panel that was added by slip is taken away while nothing stands of it."""

from collections.abc import Iterator, Sequence
from typing import Final, TypeVar

from checks.check import CircuitState
from checks.intake import BY_ID, read_visit
from checks.record import ChargingPoint, Correction, Panel
from checks.trends import Reinspection
from fieldapp.walk.drafts import Taken, draft_of, entry_of, key_of, resumed
from fieldapp.walk.on_disk import VisitOnDisk
from fieldapp.walk.own_names import free_name
from fieldapp.walk.refused import WalkError

_NAMED: Final = 3

T = TypeVar("T", Panel, ChargingPoint)


class TakingAway(VisitOnDisk):
    """What was added and is of no use; what was recorded of anything is never lost."""

    def take_away(self, subject: str, *, earlier: Sequence[Reinspection]) -> None:
        """Take a charging point or a panel out of the visit; `Walk.undo` puts it back.

        Parameters
        ----------
        subject : str
            Which.
        earlier : sequence of Reinspection
            What earlier visits found here.

        Raises
        ------
        WalkError
            It is the last of its kind, it feeds a point, it is in the signed visit that this one
            amends, or something is recorded of it.
        """
        self.require_nothing_at(subject, earlier=earlier)
        visit = self.visit
        named = tuple(c for c in visit.corrections if _names(c, subject))
        kept = tuple(c for made in visit.corrections for c in _without(made, subject))
        numbers = [m.number for m in self._made if m not in visit.corrections]
        numbers += [c.number for c in kept]
        is_point = subject in {p.id for p in visit.points}
        ids = [p.id for p in visit.points] if is_point else [p.id for p in visit.panels]
        taken = Taken(
            number=1 + max(numbers, default=0),
            place=ids.index(subject),
            panels=tuple(p for p in visit.panels if p.id == subject),
            points=tuple(p for p in visit.points if p.id == subject),
            corrections=named,
        )
        panels = tuple(p for p in visit.panels if p.id != subject)
        points = tuple(p for p in visit.points if p.id != subject)
        with self._all_or_nothing():
            self._leave()
            self._left = {k: d for k, d in self._left.items() if k.split("@")[1] != subject}
            self._taken = (*self._taken, taken)
            if self.point_id == subject:
                self.point_id = points[max(0, taken.place - 1)].id
            self._change(panels=panels, points=points, corrections=kept)

    def require_nothing_at(self, subject: str, *, earlier: Sequence[Reinspection]) -> None:
        """Refuse where it stays; see `take_away`."""
        visit, name = self.visit, self.visit.name_of(subject)
        is_point = subject in {p.id for p in visit.points}
        if is_point and len(visit.points) == 1:
            raise WalkError(
                "a visit has one charging point at least",
                where=name,
                remedy="Correct what is wrong about it, or add the right one first",
            )
        fed = "; ".join(p.name for p in visit.points if p.panel == subject)
        if fed:
            raise WalkError(
                f"it feeds {fed}",
                where=name,
                remedy="Say first which other panel feeds that, under what is installed",
            )
        if subject in self._signed_before():
            raise WalkError(
                "it is in the signed visit that this one amends",
                where=name,
                remedy="It stays; correct what is wrong about it",
            )
        stands = list(dict.fromkeys(self._recorded_of(subject)))
        if stands:
            raise WalkError(
                f"something is recorded of it: {'; '.join(stands[:_NAMED])}",
                where=name,
                remedy="It stays, for no record is lost; correct what is wrong about it",
            )
        found = [r.title for r in earlier if r.subject == subject and r.is_open]
        if found:
            raise WalkError(
                f"it was found on an earlier visit and stands open: {'; '.join(found[:_NAMED])}",
                where=name,
                remedy="It stays; look at that again, or leave it out with the reason",
            )

    def _signed_before(self) -> frozenset[str]:
        """Return the points and panels of the signed visit that this one amends."""
        amends = self.visit.amends
        if amends is None:
            return frozenset()
        signed = read_visit(self._store.load(amends.visit).visit)
        return frozenset([p.id for p in signed.panels] + [p.id for p in signed.points])

    def _recorded_of(self, subject: str) -> Iterator[str]:
        """Yield what is recorded of a subject, or half made there."""
        visit = self.visit
        yield from (BY_ID[e.check].title for e in visit.entries if e.subject == subject)
        states = (CircuitState(s.state) for s in visit.states if s.point == subject)
        yield from (f"circuit {state}" for state in states)
        drafts = dict(self._left)
        if self.questions is not None:
            drafts[key_of(self.questions)] = draft_of(self.questions)
        for key, draft in drafts.items():
            check, _, of = key.partition("@")
            begun = entry_of(draft) if of == subject else None
            if of == subject and begun is None:  # another version of the app knows what it holds
                yield check
            elif begun is not None and resumed(self.declared(begun), draft).is_begun:
                yield BY_ID[check].title
        if any(p.panel == subject for c in visit.corrections for p in c.points):
            yield "what it fed before that was corrected"

    def _put_back(self, last: Taken) -> None:
        """Put back what was taken away last, and what had stood of it before."""
        visit = self.visit
        self._taken = self._taken[:-1]
        again = {c.number: c for c in (*visit.corrections, *last.corrections)}
        if last.points:
            self.point_id = last.points[0].id
        at = last.place
        panels, points = (
            _named_anew(last.panels, visit.panels),
            _named_anew(last.points, visit.points),
        )
        self._change(
            panels=(*visit.panels[:at], *panels, *visit.panels[at:]),
            points=(*visit.points[:at], *points, *visit.points[at:]),
            corrections=tuple(again[number] for number in sorted(again)),
        )


def _named_anew(back: tuple[T, ...], here: Sequence[T]) -> tuple[T, ...]:
    """Return what comes back with its name counted on where another one has it by now."""
    names = [p.name for p in here]
    return tuple(p.model_copy(update={"name": free_name(p.name, names)}) for p in back)


def _names(made: Correction, subject: str) -> bool:
    return subject in [p.id for p in made.panels] + [p.id for p in made.points]


def _without(made: Correction, subject: str) -> Iterator[Correction]:
    """Yield a correction without one point or panel, where it says anything else."""
    panels = tuple(p for p in made.panels if p.id != subject)
    points = tuple(p for p in made.points if p.id != subject)
    if any((made.site, made.system, made.code, panels, points)):
        yield made.model_copy(update={"panels": panels, "points": points})
