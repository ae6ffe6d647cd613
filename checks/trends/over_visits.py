"""What changed at the charging points of one site from visit to visit: pure, total, no clock."""

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Final, NamedTuple

from uncertainties import ufloat

from checks.assess import Row
from checks.electrical.trend import DAYS_PER_YEAR, LEAST_DAYS, Trend, normalized_rise_k, trend
from checks.electrical.trend import Visit as Found
from checks.path import Scope
from checks.quantity import COVERAGE, Amount, amount, nominal
from checks.record import ChargingPoint, Visit
from checks.source import Source, judgement
from checks.trends.identity import (
    OF_THE_UNIT,
    Seen,
    is_other_unit,
    require_one_site,
)
from checks.trends.places import places
from checks.units import Number, difference_unit, to_si
from checks.verdict import Limit, Severity, Shown, Side, Tracked

LEAST_YEARS: Final = 1.0
INTERVAL: Final[Source] = judgement(
    "the next visit is expected after as long as between the last two, a year at the least"
)


_There = tuple[Seen, ChargingPoint]  # an earlier visit, and a charging point as it was there


class Reading(Shown):
    """What one visit found, with its uncertainty."""

    on: str
    visit: str
    amount: Amount


class PointTrend(Shown):
    """One quantity of one charging point over the visits.

    Parameters
    ----------
    point, name : str
        The charging point as the latest visit knows it.
    check, title, of : str
        Which check found it, and what it is.
    readings : tuple of Reading
        From the earliest visit to the latest; since the last mending, where there was one.
    limit : Limit
        The nearest limit that the latest value has not passed, else the widest.
    change, per_year : Amount
        From the first to the last along the line, and the line's slope.
    course : tuple of Amount
        The line's value at the first and at the last visit.
    is_seen : bool
        Whether the change is more than the meters' uncertainty.
    is_straight : bool
        Whether all visits lie on one line within their uncertainty; without it no date is given.
    crossing, earliest : str
        The day on which the line meets the limit, and the first that is not ruled out; else empty.
    explanation, remedy : str
        In one sentence each.
    severity : Severity, optional
        Of a finding: the limit is met before the next visit is to be expected.
    """

    point: str
    name: str
    check: str
    title: str
    of: str
    readings: tuple[Reading, ...]
    limit: Limit
    change: Amount
    per_year: Amount
    course: tuple[Amount, Amount]
    is_seen: bool
    is_straight: bool
    crossing: str = ""
    earliest: str = ""
    explanation: str
    remedy: str = ""
    severity: Severity | None = None


def trends(latest: Seen, earlier: Sequence[Seen]) -> tuple[PointTrend, ...]:
    """Compare the latest visit with earlier ones to the same site.

    Values are compared as each visit's own assessment brought them to like conditions; the errors
    of the meters are taken as independent from visit to visit, for they drift between
    calibrations.

    Parameters
    ----------
    latest : Seen
        The visit that is looked from.
    earlier : sequence of Seen
        Visits before it, in any order; one that is given twice, or is no earlier, counts once.

    Returns
    -------
    tuple of PointTrend
        Along the path of each charging point; empty where nothing can be compared.

    Raises
    ------
    SiteError
        An earlier visit was made to another site.
    """
    require_one_site(latest, earlier)
    before = {e.visit.id: e for e in earlier if e.visit.id != latest.visit.id}
    known = places(latest.visit, [e.visit for e in before.values()])
    there = {
        at: [
            (e, e.visit.point(of))
            for e in before.values()
            for of, to in known[e.visit.id].items()
            if to == at
        ]
        for at in (p.id for p in latest.visit.points)
    }
    return tuple(
        made
        for point in latest.visit.points
        for row in latest.assessment.rows
        if row.subject == point.id and row.station.scope is Scope.POINT
        for each in row.judgement.tracked
        for made in _one(latest, there[point.id], point, row, each)
    )


def _one(
    latest: Seen, earlier: Sequence[_There], point: ChargingPoint, row: Row, now: Tracked
) -> Iterator[PointTrend]:
    """Return the trend of one quantity; nothing while there is no earlier value a month ago."""
    found = [x for each in earlier for x in _found(each, latest.visit, point, row, now)]
    found.append(_value(latest, row, now))
    found = _since_mending(sorted(found, key=lambda x: x.on))
    if (found[-1].on - found[0].on).days < LEAST_DAYS:
        return
    symbol = now.amount.unit
    limit = _limit(now.limits, found[-1].value)
    is_upper = limit.side is Side.AT_MOST
    line = trend([Found(x.on, x.value) for x in found], limit.value, is_upper=is_upper)
    crossing = line.crossing if line.is_straight else None
    step = difference_unit(symbol)
    made = PointTrend(
        point=point.id,
        name=point.name,
        check=row.check,
        title=row.title,
        of=now.amount.of,
        readings=tuple(
            Reading(on=x.on.isoformat(), visit=x.visit, amount=amount(x.value, symbol))
            for x in found
        ),
        limit=limit,
        change=amount(line.change, step),
        per_year=amount(line.per_year, step),
        course=(amount(line.start, symbol), amount(line.start + line.change, symbol)),
        is_seen=line.is_seen,
        is_straight=line.is_straight,
        crossing=crossing.isoformat() if crossing else "",
        earliest=line.earliest.isoformat() if crossing and line.earliest else "",
        explanation="",
    )
    last_days = (found[-1].on - found[-2].on).days
    yield made.model_copy(update=_judged(made, line, last_days))


class _Value(NamedTuple):
    on: date
    visit: str
    value: Number
    is_after_mending: bool


def _found(
    before: _There, latest: Visit, point: ChargingPoint, row: Row, now: Tracked
) -> Iterator[_Value]:
    """Return what an earlier visit found of this quantity at this charging point, if it did."""
    seen, there = before
    if row.station in OF_THE_UNIT and is_other_unit(seen.visit, latest, there, point):
        return
    for other in seen.assessment.rows:
        if (other.check, other.subject) != (row.check, there.id):
            continue
        for each in other.judgement.tracked:
            if each.amount.of == now.amount.of:
                then = _value(seen, other, each)
                yield then._replace(value=_brought(then.value, each, now))


def _brought(value: Number, then: Tracked, now: Tracked) -> Number:
    """Bring a rise to the current at which the latest visit states its own."""
    if then.at is None or now.at is None or then.at.value == now.at.value:
        return value
    return normalized_rise_k(value, float(then.at.value), float(now.at.value))


def _value(seen: Seen, row: Row, each: Tracked) -> _Value:
    entry = next((e for e in seen.visit.entries if e.number == row.judged), None)
    at = entry.at if entry is not None else seen.visit.started
    size, spread = float(each.amount.value), float(each.amount.expanded or 0) / COVERAGE
    value = to_si(ufloat(size, spread) if spread > 0 else size, each.amount.unit)
    is_mended = entry is not None and entry.after_mending
    return _Value(date.fromisoformat(at[:10]), seen.visit.id, value, is_mended)


def _since_mending(found: list[_Value]) -> list[_Value]:
    """Leave out what was found before the last mending: it was of another joint."""
    mended = [i for i, x in enumerate(found) if x.is_after_mending]
    return found[mended[-1] :] if mended else found


# -- what it means ---------------------------------------------------------------------------------
def _limit(limits: Sequence[Limit], value: Number) -> Limit:
    """Return the nearest limit that the value has not passed; when all are passed, the widest."""

    def room(limit: Limit) -> float:
        sign = 1.0 if limit.side is Side.AT_MOST else -1.0
        return sign * (limit.value - nominal(value))

    ahead = [x for x in limits if room(x) > 0]
    return min(ahead, key=room) if ahead else max(limits, key=room)


def _judged(made: PointTrend, line: Trend, last_days: int) -> dict[str, object]:
    """Say what the line means, and whether it is a finding."""
    first, last = made.readings[0], made.readings[-1]
    span = f"{_capital(made.of)}: {first.amount} on {first.on}, {last.amount} on {last.on}"
    if not line.is_seen:
        return {"explanation": f"{span}; no change that these meters can see ({made.change})"}
    grown = f"{made.per_year} a year, more than the meters' uncertainty"
    words = f"{span}; {grown}"
    if line.is_beyond:
        return {"explanation": f"{words}; the limit, {made.limit}, is passed already"}
    if not line.is_straight:
        return {
            "explanation": f"{words}, but not along one line: no date can be given",
            "remedy": "Ask what was mended, replaced or loaded otherwise between the visits",
        }
    if not made.crossing:
        return {"explanation": f"{words}; {_no_crossing(made, line)}, {made.limit}"}
    words += f"; if it goes on, it meets its limit, {made.limit}, about {made.crossing[:7]}"
    if made.earliest[:7] not in ("", made.crossing[:7]):
        words += f", not before {made.earliest[:7]}"
    return {"explanation": words, **_finding(made, max(last_days, LEAST_YEARS * DAYS_PER_YEAR))}


def _no_crossing(made: PointTrend, line: Trend) -> str:
    sign = 1.0 if made.limit.side is Side.AT_MOST else -1.0
    if sign * nominal(line.per_year) < 0:
        return "it goes away from its limit"
    return "its limit is farther off than these visits can tell"


def _finding(made: PointTrend, interval_days: float) -> dict[str, object]:
    last = date.fromisoformat(made.readings[-1].on)
    crossing = made.earliest or made.crossing  # the first that is not ruled out

    def is_near(day: str) -> bool:
        return bool(day) and (date.fromisoformat(day) - last).days <= interval_days

    if is_near(made.crossing):
        return {
            "severity": Severity.CAUTION,
            "remedy": f"Have it mended before {crossing[:7]}: make the circuit dead, and find "
            "which contact or joint has aged",
        }
    if is_near(made.earliest):
        return {
            "severity": Severity.NOTICE,
            "remedy": f"Measure it again before {made.earliest[:7]}, not only at the next visit",
        }
    return {}


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
