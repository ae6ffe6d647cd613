"""Findings of earlier visits, known again from visit to visit until they are inspected again."""

from collections.abc import Sequence
from enum import StrEnum
from typing import Final, NamedTuple

from checks.assess import Row
from checks.path import Station
from checks.record import SITE, Entry, Visit, VisitKind
from checks.stations.all import BY_ID
from checks.trends.identity import (
    OF_THE_UNIT,
    Seen,
    is_other_unit,
    plain,
    require_one_site,
)
from checks.trends.places import places, when
from checks.verdict import Judgement, Severity, Shown, Verdict

_FOUND: Final = (Verdict.OUTSIDE, Verdict.BORDERLINE)


class Standing(StrEnum):
    """What became of an earlier finding."""

    NOT_AGAIN = "not inspected again"
    NOT_JUDGED = "made again, not judged yet"
    FOUND_AGAIN = "found again"
    CLEARED = "no longer found"
    REPLACED = "replaced since"


class Reinspection(Shown):
    """A finding of an earlier visit that was open after it.

    Parameters
    ----------
    check, title, station : str, str, Station
        Which check found it.
    subject : str
        Where, as the latest visit knows it; empty where it is not part of that visit.
    name : str
        The panel, the charging point or the site, by its name.
    first_on, on : str
        The day it was found first, and last before this visit.
    visit : str
        The visit that found it last.
    before : Judgement
        What was found then.
    standing : Standing
        What became of it.
    now : Judgement, optional
        What is found now, where it was inspected again.
    why : str
        Why it was not inspected again, or what was replaced.
    """

    check: str
    title: str
    station: Station
    subject: str
    name: str
    first_on: str
    on: str
    visit: str
    before: Judgement
    standing: Standing
    now: Judgement | None = None
    why: str = ""

    @property
    def is_open(self) -> bool:
        """Whether nobody has looked at it again so that it can be judged."""
        return self.standing in (Standing.NOT_AGAIN, Standing.NOT_JUDGED)

    @property
    def is_standing_grave(self) -> bool:
        """Whether a danger or a warning was found, and nobody has looked since."""
        severity = self.before.severity
        return self.is_open and severity is not None and severity.is_grave

    @property
    def found(self) -> str:
        """Say when it was found and what was found then."""
        since = "" if self.first_on == self.on else f", first on {self.first_on}"
        return f"Found on {self.on}{since}: {_value(self.before)}"

    @property
    def stands(self) -> str:
        """Say what became of it."""
        if self.now is not None:
            return f"Now: {_value(self.now)}"
        return ": ".join(filter(None, (self.standing.value, self.why)))


def standing_grave(found: Sequence[Reinspection], kind: VisitKind) -> tuple[Reinspection, ...]:
    """Return the dangers and warnings of earlier visits that still stand, the gravest first.

    Those of what belongs to this visit, and can be looked at again on one of its kind.

    Parameters
    ----------
    found : sequence of Reinspection
        What earlier visits found, as `reinspections` gives it.
    kind : VisitKind
        Of this visit.
    """
    order = list(Severity)
    grave = [r for r in found if r.is_standing_grave and r.subject]
    here = [r for r in grave if r.check not in BY_ID or kind in BY_ID[r.check].kinds]
    return tuple(sorted(here, key=lambda r: order.index(r.before.severity or Severity.NOTICE)))


def stands_still(grave: Sequence[Reinspection]) -> str:
    """Say that something grave of an earlier visit stands; empty where nothing does.

    Parameters
    ----------
    grave : sequence of Reinspection
        As `standing_grave` gives it.
    """
    if not grave:
        return ""
    named = "; ".join(f"{r.title} ({r.name}, {r.on})" for r in grave)
    return (
        f"Found earlier and not inspected again: {named}. Do not use it until that was mended and "
        "looked at."
    )


def _value(judged: Judgement) -> str:
    measured = "" if judged.measured is None else str(judged.measured)
    return ", ".join(filter(None, (judged.verdict.value, measured)))


def reinspections(latest: Seen, earlier: Sequence[Seen]) -> tuple[Reinspection, ...]:
    """Return the findings that earlier visits left open, and what became of each.

    A finding is known by its check and its place. It stays open over visits that did not look at
    it, whoever made them, and is closed by the first that found it within. What a correction set
    aside stands as it was found, and closes nothing.

    Parameters
    ----------
    latest : Seen
        The visit that is looked from.
    earlier : sequence of Seen
        Visits before it, in any order.

    Returns
    -------
    tuple of Reinspection
        The gravest first, then along the path.

    Raises
    ------
    SiteError
        An earlier visit was made to another site.
    """
    require_one_site(latest, earlier)
    open_ = _left_open(latest, earlier)
    rows = {(r.check, r.subject): r for r in latest.assessment.rows}
    order = {key: i for i, key in enumerate(rows)}
    gravest = list(Severity)
    found = sorted(
        open_.items(),
        key=lambda x: (
            gravest.index(x[1].row.judgement.severity or Severity.NOTICE),
            order.get(x[0], len(order)),
            x[0],
        ),
    )
    return tuple(_one(latest, each, key[1], rows.get(key)) for key, each in found)


class _Open(NamedTuple):
    seen: Seen
    row: Row
    first_on: str
    on: str


def _left_open(latest: Seen, earlier: Sequence[Seen]) -> dict[tuple[str, str], _Open]:
    """Return what stands open after the earlier visits, by check and place."""
    before = {e.visit.id: e for e in earlier if e.visit.id != latest.visit.id}
    known = places(latest.visit, [e.visit for e in before.values()])
    open_: dict[tuple[str, str], _Open] = {}
    for seen in sorted(before.values(), key=lambda e: when(e.visit)):
        here = {SITE: SITE, **known[seen.visit.id]}
        found: dict[tuple[str, str], _Open] = {}
        within = set()
        # the graver last: what was set aside stands before what is found there since
        for row in (*seen.assessment.rows, *_aside(seen).values()):
            key = row.check, here.get(row.subject) or f"? {plain(seen.visit.name_of(row.subject))}"
            if row.judgement.verdict in _FOUND:
                on = _day(seen, row)
                first = open_[key].first_on if key in open_ else on
                found[key] = _Open(seen, row, first, on)
            elif row.judgement.verdict is Verdict.WITHIN:
                within.add(key)
        # two of one name that nobody can tell apart: what one is, does not close the other
        open_ = {k: each for k, each in open_.items() if k not in within} | found
    return open_


def _aside(seen: Seen) -> dict[tuple[str, str], Row]:
    """Return what may be so yet on a visit, set aside by a correction, by check and subject."""
    rows = (each.finding.row for each in seen.assessment.may_be_so)
    return {(row.check, row.subject): row for row in rows}


def _day(seen: Seen, row: Row) -> str:
    """Return the day on which something was found."""
    entry = _entry(seen.visit, row.judged)
    return (seen.visit.started if entry is None else entry.at)[:10]


def _entry(visit: Visit, number: int | None) -> Entry | None:
    return next((e for e in visit.entries if e.number == number), None)


def _one(latest: Seen, found: _Open, place: str, row: Row | None) -> Reinspection:
    earlier, then = found.seen.visit, found.row
    standing, now, why = _stands(latest, found, place, row)
    return Reinspection(
        check=then.check,
        title=then.title,
        station=then.station,
        subject=place if row is not None else "",
        name=latest.visit.name_of(place) if row is not None else earlier.name_of(then.subject),
        first_on=found.first_on,
        on=found.on,
        visit=earlier.id,
        before=then.judgement,
        standing=standing,
        now=now,
        why=why,
    )


def _stands(
    latest: Seen, found: _Open, place: str, row: Row | None
) -> tuple[Standing, Judgement | None, str]:
    if row is None:
        return Standing.NOT_AGAIN, None, "it is not part of this visit"
    if (row.check, row.subject) in _aside(latest):
        return Standing.NOT_JUDGED, None, "a correction set it aside"
    judged = row.judgement
    if judged.verdict in _FOUND:
        return Standing.FOUND_AGAIN, judged, ""
    if judged.verdict is Verdict.WITHIN:
        return Standing.CLEARED, judged, ""
    if found.row.station in OF_THE_UNIT and _is_replaced(latest.visit, found, place):
        return Standing.REPLACED, None, "another serial number is on the charger"
    entry = _entry(latest.visit, row.entry)
    if entry is None and judged.verdict is Verdict.NOT_MEASURED:
        return Standing.NOT_AGAIN, None, ""
    if entry is not None and entry.not_done is not None:
        left = entry.not_done
        return Standing.NOT_AGAIN, None, ": ".join(filter(None, (left.reason, left.text)))
    standing = Standing.NOT_AGAIN if entry is None else Standing.NOT_JUDGED
    return standing, None, judged.explanation[:1].lower() + judged.explanation[1:]


def _is_replaced(latest: Visit, found: _Open, place: str) -> bool:
    earlier = found.seen.visit
    return is_other_unit(earlier, latest, earlier.point(found.row.subject), latest.point(place))
