"""What a declaration may say: a check, its inputs, its cautions, and what its judge may read."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final, TypeAlias

from checks.codes.profile import CodeProfile
from checks.path import Scope, Station
from checks.quantity import (
    DEFAULT_ACCURACY,
    Accuracy,
    Dimension,
    Number,
    UFloat,
    amount,
    gain,
    measured,
    nominal,
    to_si,
    unit,
)
from checks.record import (
    SITE,
    Category,
    ChargingPoint,
    Chosen,
    Entry,
    Instrument,
    InstrumentKind,
    Panel,
    Reading,
    Readings,
    Visit,
    VisitKind,
    Worded,
    YesNoAnswer,
)
from checks.source import Source
from checks.verdict import Judgement, Limit, Severity, Verdict, VoltageStep, decide, margin


class CircuitState(StrEnum):
    """The state a check needs the branch circuit to be in; work runs in this order.

    ``ANY`` is for looking and reading plates: nothing is opened that the state would matter for.
    """

    ANY = "any state"
    DEAD = "dead and proved"
    ENERGISED = "energised"
    UNDER_LOAD = "under load"


STATE_ORDER: Final = (CircuitState.DEAD, CircuitState.ENERGISED, CircuitState.UNDER_LOAD)


@dataclass(frozen=True)
class Caution:
    """A caution with its signal word; shown and acknowledged before an entry can be made."""

    signal: Severity
    text: str


@dataclass(frozen=True)
class Option:
    """One option of a choice: the identity that is stored, and the words that are shown."""

    value: str
    label: str = ""

    @property
    def words(self) -> str:
        """What the screen shows."""
        return self.label or self.value


@dataclass(frozen=True)
class When:
    """Ask an input only after another input of the same check has one of these answers.

    A yes/no answer is compared as ``"yes"`` or ``"no"``.
    """

    input: str
    answers: tuple[str, ...]


@dataclass(frozen=True)
class Input:
    """What every kind of input has."""

    name: str
    label: str
    help: str = field(default="", kw_only=True)
    when: When | None = field(default=None, kw_only=True)
    optional: bool = field(default=False, kw_only=True)


@dataclass(frozen=True)
class Choice(Input):
    """One of several options."""

    options: tuple[Option, ...] = ()


@dataclass(frozen=True)
class YesNo(Input):
    """A question answered with yes or no; ``good`` is the answer that speaks for the work."""

    good: bool | None = None


@dataclass(frozen=True)
class Words(Input):
    """Free words, such as a serial number."""


@dataclass(frozen=True)
class Rating(Input):
    """A rating, size or count that is read off, not measured: exact."""

    dimension: Dimension = Dimension.CURRENT
    units: tuple[str, ...] = ("A",)
    plausible: tuple[float, float] = (0.0, 1e9)  # in the unit used inside


@dataclass(frozen=True)
class Measurement(Input):
    """A measured value.

    Parameters
    ----------
    dimension : Dimension
        What is measured.
    units : tuple of str
        Units it may be typed in; the first is offered.
    plausible : tuple of float
        Between these the number is taken as typed; beyond, it is questioned. In the unit used
        inside.
    instruments : tuple of InstrumentKind
        What it may be taken with; empty where the eye or the vehicle's display is enough.
    category : Category
        The least measurement category at this place.
    access_point : str
        Where the probes go, or where the value is read.
    signed : bool
        Whether a value below zero makes sense.
    """

    dimension: Dimension = Dimension.VOLTAGE
    units: tuple[str, ...] = ("V",)
    plausible: tuple[float, float] = (0.0, 1e9)
    instruments: tuple[InstrumentKind, ...] = ()
    category: Category = Category.NONE
    access_point: str = ""
    signed: bool = False


@dataclass(frozen=True)
class Series(Measurement):
    """Several readings of one quantity, such as temperature over time."""

    least: int = 2


AnyInput: TypeAlias = Choice | YesNo | Words | Rating | Measurement | Series


class Situation:
    """What a judge may read: the installation, the code, and every entry of the visit.

    A reference names an input as ``station.check.input``. It is looked up where that station's
    entries belong: the site, the panel that feeds this point, or the point itself.

    Parameters
    ----------
    visit : Visit
        The record.
    code : CodeProfile
        The code it is judged by.
    subject : str
        The panel, the charging point, or ``site``, that is judged.
    gains : dict, optional
        Gain errors of the instruments, shared by every reading of one assessment.
    """

    def __init__(
        self,
        visit: Visit,
        code: CodeProfile,
        subject: str,
        gains: dict[tuple[str, Dimension], UFloat] | None = None,
        latest: dict[tuple[str, str], Entry] | None = None,
    ) -> None:
        self.visit, self.code, self.subject = visit, code, subject
        self._gains = {} if gains is None else gains
        self._latest = latest_entries(visit) if latest is None else latest

    # -- what is installed ---------------------------------------------------------------------
    @property
    def point(self) -> ChargingPoint:
        """The charging point that is judged; only for checks of a point."""
        return self.visit.point(self.subject)

    @property
    def panel(self) -> Panel:
        """The panel that is judged, or that feeds the point."""
        points = {p.id: p.panel for p in self.visit.points}
        return self.visit.panel(points.get(self.subject, self.subject))

    @property
    def points(self) -> tuple["Situation", ...]:
        """The charging points here: all of the site, those of a panel, or the one itself."""
        here = [p.id for p in self.visit.points if self.subject in (SITE, p.panel, p.id)]
        return tuple(Situation(self.visit, self.code, p, self._gains, self._latest) for p in here)

    # -- what was recorded ---------------------------------------------------------------------
    def entry(self, check: str) -> Entry | None:
        """Return the entry that counts for a check, seen from this subject."""
        scope = Station(check.split(".", 1)[0]).scope
        if scope is Scope.SITE:
            where = SITE
        elif scope is Scope.PANEL:
            where = self.panel.id
        else:
            where = self.subject
        return self._latest.get((check, where))

    def _answer(self, reference: str) -> object | None:
        check, name = reference.rsplit(".", 1)
        entry = self.entry(check)
        return None if entry is None else entry.answer(name)

    def choice(self, reference: str) -> str | None:
        """Return the option that was picked, or nothing."""
        found = self._answer(reference)
        return found.option if isinstance(found, Chosen) else None

    def yes(self, reference: str) -> bool | None:
        """Return the answer to a yes/no question, or nothing."""
        found = self._answer(reference)
        return found.yes if isinstance(found, YesNoAnswer) else None

    def words(self, reference: str) -> str | None:
        """Return the words that were written, or nothing."""
        found = self._answer(reference)
        return found.text if isinstance(found, Worded) else None

    def rating(self, reference: str) -> float | None:
        """Return an exact number (rating, size, count) in the unit used inside, or nothing."""
        found = self._answer(reference)
        return float(to_si(float(found.value), found.unit)) if isinstance(found, Reading) else None

    def measured(self, reference: str) -> Number | None:
        """Return a measured value in the unit used inside, with its uncertainty, or nothing."""
        found = self._answer(reference)
        return self._with_accuracy(found) if isinstance(found, Reading) else None

    def series(self, reference: str) -> tuple[tuple[str, Number], ...]:
        """Return the times and measured values of a series; empty when there is none."""
        found = self._answer(reference)
        if not isinstance(found, Readings):
            return ()
        return tuple((r.at, self._with_accuracy(r)) for r in found.readings)

    def instrument(self, reading: Reading) -> Instrument | None:
        """Return the instrument a reading was taken with, if it was named."""
        return next((i for i in self.visit.instruments if i.id == reading.instrument), None)

    def _with_accuracy(self, reading: Reading) -> Number:
        dimension = unit(reading.unit).dimension
        accuracy, key = self._accuracy(reading, dimension)
        if accuracy is None:
            return to_si(float(reading.value), reading.unit)
        shared = self._gains.setdefault((key, dimension), gain(accuracy))
        return measured(reading.value, reading.unit, accuracy, shared)

    def _accuracy(self, reading: Reading, dimension: Dimension) -> tuple[Accuracy | None, str]:
        instrument = self.instrument(reading)
        stated = instrument.accuracy_for(dimension) if instrument else None
        if stated is not None:
            return stated, reading.instrument or ""
        if dimension not in DEFAULT_ACCURACY:
            return None, ""
        percent, counts = DEFAULT_ACCURACY[dimension]
        # an unnamed meter shares nothing with the next unnamed one but the class it is taken for
        key = reading.instrument or "unnamed"
        return Accuracy(dimension=dimension, percent=percent, counts=counts), key


Judge: TypeAlias = Callable[[Situation], Judgement]
Applies: TypeAlias = Callable[[Situation], str]


def always(_: Situation) -> str:
    """Apply to every installation."""
    return ""


@dataclass(frozen=True)
class Check:
    """All there is to know about a check; walk, screen, assessment and report follow from it.

    Parameters
    ----------
    id : str
        Identity, ``station.subject``.
    title : str
        What it is called.
    how : str
        What to do, as an instruction.
    inputs : tuple
        What is seen or measured.
    judge : callable
        From what was recorded to a judgement. With inputs missing it returns ``not measured`` and
        still fills in the limits, so that they are in view before the number is typed.
    state : CircuitState
        What the branch circuit must be in.
    opens : bool
        Needs an enclosure to be opened or a conductor to be loosened: not for who only inspects.
    gates : bool
        Must stand (made, and not ``outside``) before the next circuit state opens.
    kinds : tuple of VisitKind
        The visits it belongs to.
    applies : callable
        Empty text where it applies to this installation, else the reason why it does not.
    cautions : tuple of Caution
        Shown and acknowledged before the entry.
    tells : bool
        Its judgement gives the station its telling number.
    no_limit_because : str
        Why the judge reads no limit, no second entry and nothing of the installation, if so.
    """

    id: str
    title: str
    how: str
    inputs: tuple[AnyInput, ...]
    judge: Judge
    state: CircuitState = CircuitState.ANY
    opens: bool = False
    gates: bool = False
    kinds: tuple[VisitKind, ...] = tuple(VisitKind)
    applies: Applies = always
    cautions: tuple[Caution, ...] = ()
    tells: bool = False
    no_limit_because: str = ""

    @property
    def station(self) -> Station:
        """The station it belongs to."""
        return Station(self.id.split(".", 1)[0])

    def input(self, name: str) -> AnyInput | None:
        """Return one of its inputs by name."""
        return next((i for i in self.inputs if i.name == name), None)

    def not_here_because(self, situation: Situation) -> str:
        """Return why it does not belong to this visit, role or installation; empty when it does."""
        visit = situation.visit
        if visit.kind not in self.kinds:
            return f"not part of a {visit.kind}"
        if self.opens and not visit.role.opens:
            return "needs an enclosure opened, and who inspects opens nothing"
        return self.applies(situation)

    def asked(self, entry: Entry | None) -> tuple[AnyInput, ...]:
        """Return the inputs to ask, given what has been answered so far."""
        return tuple(i for i in self.inputs if i.when is None or _met(i.when, entry))

    def missing(self, entry: Entry | None) -> tuple[AnyInput, ...]:
        """Return the inputs that are asked, not optional, and not answered."""
        return tuple(
            i
            for i in self.asked(entry)
            if not i.optional and (entry is None or entry.answer(i.name) is None)
        )


def _met(when: When, entry: Entry | None) -> bool:
    found = None if entry is None else entry.answer(when.input)
    if isinstance(found, YesNoAnswer):
        return ("yes" if found.yes else "no") in when.answers
    return isinstance(found, Chosen) and found.option in when.answers


def latest_entries(visit: Visit) -> dict[tuple[str, str], Entry]:
    """Return the entry that counts for every check and subject, whatever the order in the file."""
    found: dict[tuple[str, str], Entry] = {}
    for entry in sorted(visit.entries, key=lambda e: e.number):
        found[entry.check, entry.subject] = entry
    return found


# -- what a judge returns ------------------------------------------------------------------------


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
    """Return the judgement of something that is seen or read off, without a measured limit."""
    verdict = Verdict.OUTSIDE
    if good:
        verdict = Verdict.WITHIN if source.can_prove else Verdict.BORDERLINE
    return Judgement(
        verdict=verdict,
        explanation=explanation,
        why="" if verdict is Verdict.WITHIN else why,
        remedy="" if verdict is Verdict.WITHIN else remedy,
        settles="" if verdict is not Verdict.BORDERLINE else "Read the rule in the adopted edition",
        severity=_severity(verdict, severity),
        sources=(source,),
        telling=telling,
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
        The words of the judgement; remedy and why are kept for a finding only.
    severity : Severity
        When outside; a borderline one is never worse than ``caution``.
    """
    verdict = decide(value, limits)
    shown = amount(value, symbol, of=of)
    good = verdict is Verdict.WITHIN
    return Judgement(
        verdict=verdict,
        explanation=explanation,
        measured=shown,
        limits=tuple(limits),
        margin=margin(value, limits, _difference_unit(symbol)),
        why="" if good else why,
        remedy="" if good else remedy,
        settles=_settles(value, limits, settles) if verdict is Verdict.BORDERLINE else "",
        severity=_severity(verdict, severity),
        sources=tuple(sources),
        working=tuple(working),
        telling=telling or f"{shown.value} {shown.unit}",
        steps=tuple(steps),
    )


def _difference_unit(symbol: str) -> str:
    """Return the unit of a difference: of temperatures a rise, without the scale's offset."""
    return {"°C": "K", "°F": "°F rise"}.get(symbol, symbol)


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
