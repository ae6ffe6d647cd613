"""Random records from the declarations: what a visit may hold, made by hypothesis or from a seed.

The shape of a visit is drawn by hypothesis, so that a failure shrinks to the simplest place; the
many answers come from one seed, so that a thousand of them cost little and can be repeated.
"""

from collections.abc import Callable, Iterable
from random import Random
from typing import Final

from hypothesis import strategies as st

from checks.check import (
    AnyInput,
    Check,
    Choice,
    Measurement,
    Rating,
    Series,
    When,
    Words,
    YesNo,
)
from checks.path import subjects
from checks.record import (
    Answer,
    ChargerForm,
    ChargingPoint,
    Chosen,
    Coupler,
    Entry,
    NotDone,
    NotDoneReason,
    Occupancy,
    Panel,
    Reading,
    Readings,
    Role,
    Site,
    SupplySystem,
    Visit,
    VisitKind,
    Worded,
    YesNoAnswer,
)
from checks.stations.all import BY_ID
from checks.units import Dimension, from_si
from tests.builders import NOON, PANEL, hard_wired, instruments, level_1, point, visit

# The ends of what the record admits: nothing, next to nothing, and as much as fits.
EXTREMES: Final = ("0", "0.0", "0.000000001", "1", "999999999", "999999999.999999999")
EXTREMES_BELOW_ZERO: Final = ("-0", "-0.000000001", "-1", "-999999999.999999999")
KIT: Final = instruments()

Made = Callable[[Check, Random], Entry | None]


# -- the shape of a visit ------------------------------------------------------------------------
def points_of(system: SupplySystem) -> tuple[ChargingPoint, ...]:
    """One point of every make-up that a supply allows, with a vehicle, an adapter, and none."""
    volts = {"nominal_v": system.level_2_v}
    forms = [
        point(**volts),
        point(**volts, charger_form=ChargerForm.CORD_SET),
        hard_wired(**volts),
        level_1(),
        level_1(charger_form=ChargerForm.FIXED),
    ]
    inlets = (Coupler.TYPE_1, Coupler.J3400, None)
    return tuple(f.model_copy(update={"inlet": inlet}) for f in forms for inlet in inlets)


@st.composite
def shapes(draw: st.DrawFn, most_points: int = 1) -> Visit:
    """A visit of any kind, role, supply, place and installation, with nothing entered yet."""
    system = draw(st.sampled_from(SupplySystem))
    panel = Panel(id=PANEL, name="Panel A", is_service_equipment=draw(st.booleans()))
    chosen = draw(st.lists(st.sampled_from(points_of(system)), min_size=1, max_size=most_points))
    return visit(
        kind=draw(st.sampled_from(VisitKind)),
        role=draw(st.sampled_from(Role)),
        system=system,
        site=Site(name="Invented site", occupancy=draw(st.sampled_from(Occupancy))),
        panels=(panel,),
        points=tuple(
            p.model_copy(update={"id": f"bay-{i}", "name": f"Bay {i}"})
            for i, p in enumerate(chosen, 1)
        ),
    )


seeds: Final = st.integers(min_value=0, max_value=2**32)


# -- its entries ---------------------------------------------------------------------------------
def filled(shape: Visit, rng: Random, make: "Made | None" = None) -> Visit:
    """Give a visit one random entry, or none, for each check at each of its subjects.

    Without `make`: some missing, some partial, some left out, some at the extremes.
    """
    maker = make or some_entry
    entries = []
    for check in BY_ID.values():
        for subject in subjects(check.station, shape):
            made = maker(check, rng)
            if made is not None:
                number = len(entries) + 1
                entries.append(made.model_copy(update={"number": number, "subject": subject}))
    return shape.model_copy(update={"entries": tuple(entries)})


def some_entry(check: Check, rng: Random) -> Entry | None:
    """No entry, one that was left out, a partial one, a full one, or one at the extremes."""
    kind = rng.choice(("none", "left out", "partial", "full", "full", "full", "extreme"))
    if kind == "none":
        return None
    if kind == "left out":
        reason = NotDone(reason=rng.choice(list(NotDoneReason)), text="invented")
        return Entry(number=1, check=check.id, subject="site", at=NOON, not_done=reason)
    chance = {"partial": 0.5, "full": 1.0, "extreme": 1.0}[kind]
    return an_entry(check, rng, chance=chance, extreme=kind == "extreme")


def full_entry(check: Check, rng: Random) -> Entry | None:
    """Every input answered that must be, some of those that may be, with plausible numbers."""
    made = an_entry(check, rng, chance=1.0, extreme=False)
    dropped = {i.name for i in check.inputs if i.optional and rng.random() < 0.4}
    return made and _without(made, dropped)


def an_entry(check: Check, rng: Random, *, chance: float, extreme: bool) -> Entry | None:
    entry = Entry(number=1, check=check.id, subject="site", at=NOON)
    for asked in check.inputs:
        if rng.random() > chance or not _is_asked(asked.when, entry, rng):
            continue
        entry = entry.model_copy(
            update={"answers": (*entry.answers, an_answer(asked, rng, extreme=extreme))}
        )
    return entry if entry.answers else None


def _is_asked(when: When | None, entry: Entry, rng: Random) -> bool:
    """Mostly as the app asks; now and then a stray answer, as a record from outside may hold."""
    if when is None:
        return True
    found = entry.answer(when.input)
    said = found.option if isinstance(found, Chosen) else None
    if isinstance(found, YesNoAnswer):
        said = "yes" if found.yes else "no"
    return said in when.answers or rng.random() < 0.03


def an_answer(asked: AnyInput, rng: Random, *, extreme: bool) -> Answer:
    if isinstance(asked, Choice):
        return Chosen(input=asked.name, option=rng.choice(asked.options).value)
    if isinstance(asked, YesNo):
        good = asked.good if asked.good is not None else rng.random() < 0.5
        return YesNoAnswer(input=asked.name, yes=good if rng.random() < 0.8 else not good)
    if isinstance(asked, Words):
        return Worded(input=asked.name, text=rng.choice(("", "invented words", "Ω µ ≥ –")))
    if isinstance(asked, Series):
        count = rng.choice((0, 1, 2, 5, 12)) if extreme else rng.randint(1, 12)
        return Readings(
            input=asked.name,
            readings=tuple(
                a_reading(asked, rng, extreme=extreme, at=f"2025-06-02T12:{i:02d}:00Z")
                for i in range(count)
            ),
        )
    return a_reading(asked, rng, extreme=extreme)


def a_reading(
    asked: Measurement | Rating, rng: Random, *, extreme: bool, at: str = NOON
) -> Reading:
    unit = rng.choice(asked.units)
    signed = isinstance(asked, Measurement) and asked.signed
    if extreme:
        text = rng.choice(EXTREMES + (EXTREMES_BELOW_ZERO if signed else ()))
        if asked.dimension is Dimension.COUNT:
            text = text.split(".")[0]
    else:
        text = _plausible(asked, unit, rng)
    kinds = asked.instruments if isinstance(asked, Measurement) else ()
    fit = [i.id for i in KIT if i.kind in kinds]
    named = rng.choice(fit) if fit and rng.random() < 0.9 else None
    return Reading(input=asked.name, value=text, unit=unit, at=at, instrument=named)


def _plausible(asked: Measurement | Rating, unit: str, rng: Random) -> str:
    low, high = (float(from_si(end, unit)) for end in asked.plausible)
    high = min(high, 10_000.0 + low)  # an open end would make every number a huge one
    spread = rng.random() ** rng.choice((1, 3))  # often near the low end, where small things live
    value = low + spread * (high - low)
    digits = 0 if asked.dimension is Dimension.COUNT else rng.choice((0, 1, 2, 3))
    text = f"{value:.{digits}f}"
    signed = isinstance(asked, Measurement) and asked.signed
    return text.lstrip("-") if not signed else text


def without(made: Visit, check: str, names: Iterable[str]) -> Visit:
    """The same visit with some answers of one check left out."""
    gone = set(names)
    kept = (_without(e, gone) if e.check == check else e for e in made.entries)
    return made.model_copy(update={"entries": tuple(kept)})


def _without(entry: Entry, gone: set[str]) -> Entry:
    answers = tuple(a for a in entry.answers if a.input not in gone)
    return entry.model_copy(update={"answers": answers})
