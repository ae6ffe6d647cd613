"""What is left at the site: cards and markings, worded from the record."""

from calendar import monthrange
from collections.abc import Iterator, Sequence
from datetime import date
from typing import Final

from checks import codes
from checks.assess import lockout
from checks.assess.anew import owed_words
from checks.assess.card import Card, Kind, Lacking, LeaveBehinds
from checks.assess.energy import barred_because
from checks.assess.model import Assessment
from checks.assess.monthly import CAUTIONS, FAILS, SOURCE, STEPS, WHERE
from checks.check import Situation
from checks.record import SITE, Decision, Visit, VisitKind
from checks.source import Basis, Source
from checks.stations import upkeep
from checks.stations.circuit_facts import breaker_a
from checks.stations.group import PANEL, SERVICE, Group
from checks.verdict import Limit, Verdict

MONTHS_A_YEAR: Final = 12
MONTHS_MOST: Final = 1200  # a hundred years: more is a slip, and no date is told of it
SETTING: Final = "charger.configuration"
SPACES: Final = "breaker.rating.spaces"
DEVICE: Final = "outlet.ground_fault.device"
TRIP_TEST: Final = "outlet.ground_fault_trip"
BYPASS: Final = "Do not bypass the load management and do not raise its limit."
TAG: Final = Source(document="29 CFR", clause="1910.333(b)(2)(iii)", basis=Basis.LOOKED_UP)


def leave_behinds(visit: Visit, assessment: Assessment) -> LeaveBehinds:
    """Return the cards that the record carries, and those that it does not carry yet.

    A marking is worded only where what it says is permitted as far as is known: a card must not
    make a wrong setting look approved.

    Parameters
    ----------
    visit : Visit
        The record.
    assessment : Assessment
        What it means.
    """
    code = codes.profile(visit.code)
    site = Situation(visit, code, SITE)
    points = [site.seen_from(p.id) for p in visit.points]
    made: list[Card | Lacking] = []
    for panel in visit.panels:
        made += _directory(site.seen_from(panel.id))
    for here in points:
        made += _adjusted(here, assessment)
    made += _managed(SERVICE, site, assessment)
    for panel in visit.panels:
        made += _managed(PANEL, site.seen_from(panel.id), assessment)
    made += _tag(visit, assessment)
    made += _next(site, assessment)
    for here in points:
        made += _monthly(here, assessment)
    return LeaveBehinds(
        cards=tuple(m for m in made if isinstance(m, Card)),
        lacking=tuple(m for m in made if isinstance(m, Lacking)),
    )


Made = Iterator[Card | Lacking]


def _directory(panel: Situation) -> Made:
    """Word the directory's lines of one panel: where the breaker sits, and what it feeds."""
    lines = []
    for here in panel.points:
        spaces, amps = here.words(SPACES), breaker_a(here)
        poles = here.choice("breaker.rating.poles")
        if not spaces or amps is None or poles is None:
            missing = "its spaces in the panel" if amps and poles else "rating, poles and spaces"
            yield Lacking(
                kind=Kind.DIRECTORY,
                where=f"{panel.panel.name}, {here.point.name}",
                why=f"Record at the breaker: {missing}",
            )
            continue
        lines.append((spaces, f"EV charger, {_place(here)} · {amps:g} A, {poles}-pole"))
    if lines:
        rule = panel.code.installation.seen["directory"]
        yield Card(
            kind=Kind.DIRECTORY,
            title="Circuit directory",
            goes=f"In the directory of {panel.panel.name}",
            lines=tuple(lines),
            sources=(rule.source,),
        )


def _place(here: Situation) -> str:
    """Name the point so that who lives or works there may change and it is still found."""
    location = here.choice("surroundings.place.location")
    return f"{here.point.name}, {location}" if location else here.point.name


def _adjusted(here: Situation, assessment: Assessment) -> Made:
    """Word the marking of a charger that is set below its nameplate."""
    set_a = here.rating(f"{SETTING}.configured_a")
    rated_a = here.rating("charger.nameplate.rated_a")
    if set_a is None or rated_a is None or set_a >= rated_a:
        if why := owed_words(here):
            yield Lacking(kind=Kind.ADJUSTED, where=here.point.name, why=why)
        return
    access = here.choice(f"{SETTING}.access")
    limits = assessment.row(SETTING, here.subject).judgement.limits
    why = ""
    if access in (None, "open"):
        why = "Only a setting that is restricted counts: restrict it, and record who may change it"
    elif breaker_a(here) is None:
        why = "Record the breaker first: the setting is held against it"
    elif _is_above(set_a, limits):
        why = _too_high(set_a)
    if why:
        yield Lacking(kind=Kind.ADJUSTED, where=here.point.name, why=why)
        return
    entry = here.entry(SETTING)
    yield Card(
        kind=Kind.ADJUSTED,
        title="Adjusted rating",
        goes=f"On the label of the charger, {here.point.name}",
        lines=(
            ("", f"Adjusted rating: {set_a:g} A"),
            ("Nameplate", f"{rated_a:g} A"),
            ("Circuit", _circuit(here)),
            ("Set or read on", entry.at[:10] if entry else ""),
        ),
        sources=(here.code.installation.seen["adjusted rating"].source,),
    )


def _is_above(set_a: float, limits: Sequence[Limit]) -> bool:
    return any(set_a > x.value for x in limits)


def _too_high(set_a: float) -> str:
    return f"It is set to {set_a:g} A, above its limit: have it set right first"


def _circuit(here: Situation) -> str:
    amps, spaces = breaker_a(here), here.words(SPACES)
    parts = (here.panel.name, f"spaces {spaces}" if spaces else "", f"{amps:g} A" if amps else "")
    return ", ".join(filter(None, parts))


def _managed(group: Group, here: Situation, assessment: Assessment) -> Made:
    """Word the marking at the supply equipment of a group that load management holds."""
    if group.why_not(here):
        return
    supply = "Service" if group is SERVICE else here.panel.name
    set_a, permitted = group.set_a(here), group.permitted(here)
    limits = assessment.row(group.check, here.subject).judgement.limits
    if set_a is None or permitted is None or not here.words(f"{group.check}.set_on"):
        why = "Record the limit as set, its date, and the device ahead of the group"
    elif _is_above(set_a, limits):
        why = _too_high(set_a)
    elif here.yes(f"{group.check}.is_restricted") is not True:
        why = "Only a setting that is restricted counts: restrict it, and record that"
    else:
        held = group.members(here)
        why = owed_words(here)
        if not why:
            yield _marking(group, here, held, supply, set_a)
            return
    yield Lacking(kind=Kind.MANAGED, where=supply, why=why)


def _marking(
    group: Group, here: Situation, members: Sequence[Situation], supply: str, set_a: float
) -> Card:
    held = ", ".join(p.point.name for p in members)
    device_a = here.rating(f"{group.check}.device_a")
    reckoned = here.entry(f"{group.place}.load")
    seen = here.code.installation.seen
    return Card(
        kind=Kind.MANAGED,
        title="Load management",
        goes=f"At the supply equipment: {supply}",
        lines=(
            ("", f"Limited by load management: {set_a:g} A"),
            ("Source", f"{supply}, device ahead {device_a:g} A"),
            ("Loads held", f"House and {held}" if group.is_whole(here) else held),
            ("Set on", here.words(f"{group.check}.set_on") or ""),
            ("Calculated on", reckoned.at[:10] if reckoned else ""),
            ("", BYPASS),
        ),
        sources=(seen["managed load"].source, seen["managed marking"].source),
    )


def _tag(visit: Visit, assessment: Assessment) -> Made:
    """Word the tag: where it was decided to keep out of service, or may well be decided."""
    is_call = visit.kind is VisitKind.SERVICE_CALL
    is_wanted = is_call or assessment.is_grave
    if visit.signoff is not None:
        is_wanted = visit.signoff.decision is Decision.KEEP_OUT
    if is_wanted:
        lines = lockout.tag(visit, assessment)
        yield Card(
            kind=Kind.TAG,
            title="Lock-out tag",
            goes="On the lock, where the circuit is switched off",
            lines=lines,
            sources=(TAG,),
        )


def _next(site: Situation, assessment: Assessment) -> Made:
    """Word the date of the next inspection, as it was agreed."""
    entry, months = site.entry(upkeep.CHECK), site.rating(f"{upkeep.CHECK}.months")
    if site.visit.kind is VisitKind.SERVICE_CALL:
        return
    if entry is None or months is None or not 1 <= months <= MONTHS_MOST:
        why = "Agree on it with the owner, at the handover"
        yield Lacking(kind=Kind.NEXT, where=site.visit.site.name, why=why)
        return
    judged = assessment.row(upkeep.CHECK, SITE).judgement
    person = site.visit.technician
    yield Card(
        kind=Kind.NEXT,
        title="Next inspection",
        goes="At the charger or the panel, for the owner",
        lines=(
            ("", f"Next inspection: {_later(entry.at[:10], int(months))}"),
            ("Inspected", entry.at[:10]),
            ("By", ", ".join(t for t in (person.name, person.company) if t)),
            ("At most", judged.limits[0].working[0] if judged.limits else ""),
            ("Sooner", "After a trip, a smell, a hot plug, water or a blow: switch off and call"),
        ),
        sources=(upkeep.INTERVAL,),
    )


def _monthly(here: Situation, assessment: Assessment) -> Made:
    """Word the owner's test card, for a device that stood its test or was not found bad."""
    device = here.choice(DEVICE)
    if device == "none":
        return
    if device is None:
        why = "Record at the outlet which ground-fault device there is"
        yield Lacking(kind=Kind.MONTHLY, where=here.point.name, why=why)
        return
    if assessment.row(TRIP_TEST, here.subject).judgement.verdict is Verdict.OUTSIDE:
        why = "The device failed its test: have it replaced first"
        yield Lacking(kind=Kind.MONTHLY, where=here.point.name, why=why)
        return
    if barred_because(here.visit, assessment, [here.subject]):  # its steps end with switching on
        why = "Not while it is out of service: once what is marked danger or warning is mended"
        yield Lacking(kind=Kind.MONTHLY, where=here.point.name, why=why)
        return
    spaces = here.words(SPACES)
    at = f", spaces {spaces}" if spaces and device == "breaker" else ""
    where = WHERE[device].format(panel=here.panel.name) + at
    yield Card(
        kind=Kind.MONTHLY,
        title=f"Test once a month: {here.point.name}",
        goes="With the owner, at the charger",
        lines=(("Device", where), ("It fails", FAILS)),
        steps=STEPS[device],
        cautions=CAUTIONS,
        fill_in=_months(here.visit.started),
        sources=(SOURCE,),
    )


def _months(started: str) -> tuple[str, ...]:
    """Name the twelve months after the visit."""
    year, month = int(started[:4]), int(started[5:7])
    after = range(month, month + MONTHS_A_YEAR)
    return tuple(f"{year + m // MONTHS_A_YEAR}-{m % MONTHS_A_YEAR + 1:02d}" for m in after)


def _later(day: str, months: int) -> str:
    """Return the day so many months later; the month's last where it has no such day."""
    start = date.fromisoformat(day)
    years, month = divmod(start.month - 1 + months, MONTHS_A_YEAR)
    year = start.year + years
    last = monthrange(year, month + 1)[1]
    return date(year, month + 1, min(start.day, last)).isoformat()
