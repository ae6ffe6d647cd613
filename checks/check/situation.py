"""What a judge may read: the installation, the code, and every entry of the visit."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from checks.check.corrected import of_corrected_facts, without_added
from checks.check.replaced import Gone, Key, of_gone_parts
from checks.codes.profile import CodeProfile
from checks.path import Scope, Station
from checks.quantity import Accuracy, default_accuracy, gain, measured, typed_step
from checks.record import (
    SITE,
    ChargingPoint,
    Chosen,
    Entry,
    Instrument,
    Panel,
    Reading,
    Readings,
    Visit,
    Worded,
    YesNoAnswer,
)
from checks.units import Dimension, Number, to_si, unit


def latest_entries(visit: Visit) -> dict[Key, Entry]:
    """Return the entry that counts for every check and subject, whatever the order in the file.

    A check that was left out when it was to be made again does not take back what it had found.
    """
    found: dict[Key, Entry] = {}
    for entry in sorted(visit.entries, key=lambda e: e.number):
        before = found.get((entry.check, entry.subject))
        if entry.not_done is None or before is None or before.not_done is not None:
            found[entry.check, entry.subject] = entry
    return found


def gone_entries(
    visit: Visit, latest: Mapping[Key, Entry], *, keeps_old_parts: bool = False
) -> dict[Key, Gone]:
    """Return the entries that say nothing of what is there now.

    Parameters
    ----------
    visit : Visit
        The record.
    latest : Mapping
        The entries that count, by check and subject.
    keeps_old_parts : bool
        Without those of a part that was replaced.
    """
    parts = {} if keeps_old_parts else of_gone_parts(visit, latest)
    return {**parts, **of_corrected_facts(visit, latest)}


def left_out(visit: Visit) -> dict[Key, Entry]:
    """Return the last entry of every check and subject that was left out in the end."""
    last: dict[Key, Entry] = {}
    for entry in sorted(visit.entries, key=lambda e: e.number):
        last[entry.check, entry.subject] = entry
    return {key: entry for key, entry in last.items() if entry.not_done is not None}


@dataclass(frozen=True)
class Errors:
    """The errors of measurement of one assessment, so that what is shared is shared.

    Parameters
    ----------
    gains : dict
        Gain error of each named instrument, quantity and class of its ranges.
    values : dict
        Each reading as a number with its errors, by its entry's number, its input and its place
        there: asked for twice it is one number, and two readings of equal digits are two.
    """

    gains: dict[tuple[str, Dimension, str], Number] = field(default_factory=dict)
    values: dict[tuple[int, str, int], Number] = field(default_factory=dict)


class Situation:
    """What a judge may read: the installation, the code, and every entry of the visit.

    A reference names an input as ``station.check.input``. It is looked up where that station's
    entries belong: the site, the panel that feeds this point, or the point itself. What was said of
    a part that was replaced, or under a fact that was corrected since, is not handed out, and is
    noted as missed.

    Parameters
    ----------
    visit : Visit
        The record.
    code : CodeProfile
        The code it is judged by.
    subject : str
        The panel, the charging point, or ``site``, that is judged.
    errors : Errors, optional
        Shared by every reading of one assessment.
    latest : dict, optional
        The entries that count, as `latest_entries` found them.
    reads : set, optional
        Gets every check and subject whose entry was looked up, whether there was one or not.
    unfit : set, optional
        Gets why what was measured is not proved: a meter past its calibration or its range.
    gone : Mapping, optional
        The entries that say nothing of what is there now, as `gone_entries` found them; empty to
        read the record as if nothing had been replaced or corrected.
    missed : set, optional
        Gets every check and subject whose entry was looked up and is one of those.
    """

    def __init__(
        self,
        visit: Visit,
        code: CodeProfile,
        subject: str,
        errors: Errors | None = None,
        latest: dict[Key, Entry] | None = None,
        reads: set[Key] | None = None,
        unfit: set[str] | None = None,
        gone: Mapping[Key, Gone] | None = None,
        missed: set[Key] | None = None,
    ) -> None:
        self.visit, self.code, self.subject = visit, code, subject
        self._errors = Errors() if errors is None else errors
        self._latest = latest_entries(visit) if latest is None else latest
        self._reads: set[Key] = set() if reads is None else reads
        self.unfit: set[str] = set() if unfit is None else unfit
        self.gone = gone_entries(visit, self._latest) if gone is None else gone
        self.missed: set[Key] = set() if missed is None else missed

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
        shared = self._errors, self._latest, self._reads, self.unfit, self.gone, self.missed
        return tuple(Situation(self.visit, self.code, p, *shared) for p in here)

    @property
    def panels(self) -> tuple["Situation", ...]:
        """Every panel of the site; what is unfit there is a matter of its own checks."""
        shared = self._errors, self._latest, self._reads
        since = self.gone, self.missed
        return tuple(
            Situation(self.visit, self.code, p.id, *shared, set(), *since)
            for p in self.visit.panels
        )

    def seen_from(self, subject: str) -> "Situation":
        """Return another place of the site, as what is judged here reads it."""
        shared = self._errors, self._latest, self._reads
        return Situation(self.visit, self.code, subject, *shared, gone=self.gone)

    @property
    def as_it_was(self) -> "Situation":
        """The same place with all that was said before parts were replaced or facts corrected."""
        shared = self._errors, self._latest, self._reads
        return Situation(self.visit, self.code, self.subject, *shared, gone={})

    def as_it_stood(self, number: int) -> "Situation":
        """Return the same place with the installation as it stood at the number of an entry of it.

        Without what was added since: the last panels and points of which nothing was recorded then.
        """
        stood = without_added(self.visit.as_it_stood(number), number, self.subject)
        shared = self._errors, self._latest, self._reads
        return Situation(stood, self.code, self.subject, *shared, gone={})

    # -- what was recorded ---------------------------------------------------------------------
    def entry(self, check: str) -> Entry | None:
        """Return the entry that counts for a check, seen from this subject."""
        key = self._key(check)
        if key not in self.gone:
            return self._latest.get(key)
        self.missed.add(key)
        return self.gone[key].left

    def _key(self, check: str) -> Key:
        scope = Station(check.split(".", 1)[0]).scope
        if scope is Scope.SITE:
            where = SITE
        elif scope is Scope.PANEL:
            where = self.panel.id
        else:
            where = self.subject
        self._reads.add((check, where))
        return check, where

    def _answer(self, reference: str) -> object | None:
        check, name = reference.rsplit(".", 1)
        since = self.gone.get(self._key(check)) if self.gone else None
        kept = None if since is None or since.left is None else since.left.answer(name)
        if kept is not None:  # it is of nothing that is gone
            return kept
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

    def unit_of(self, reference: str, otherwise: str) -> str:
        """Return the unit a number was typed in, so that its limit is shown in the same one."""
        found = self._answer(reference)
        if isinstance(found, Readings):
            return found.readings[-1].unit if found.readings else otherwise
        return found.unit if isinstance(found, Reading) else otherwise

    def measured(self, reference: str) -> Number | None:
        """Return a measured value in the unit used inside, with its uncertainty, or nothing."""
        found = self._answer(reference)
        return self._with_accuracy(reference, found) if isinstance(found, Reading) else None

    def taken_s(self, reference: str) -> float | None:
        """Return when a value was measured, in seconds that count from any start, or nothing."""
        found = self._answer(reference)
        if not isinstance(found, Reading):
            return None
        return datetime.fromisoformat(found.at).timestamp()

    def series(self, reference: str) -> tuple[tuple[str, Number], ...]:
        """Return the times and measured values of a series; empty when there is none."""
        readings = enumerate(self._readings(reference))
        return tuple((r.at, self._with_accuracy(reference, r, i)) for i, r in readings)

    def resolution(self, reference: str) -> float:
        """Return the last digit of a series as it was typed, the coarsest; 0 without a reading."""
        readings = self._readings(reference)
        return max((unit(r.unit).factor * typed_step(r.value) for r in readings), default=0.0)

    def _readings(self, reference: str) -> tuple[Reading, ...]:
        found = self._answer(reference)
        return found.readings if isinstance(found, Readings) else ()

    def instrument(self, reading: Reading) -> Instrument | None:
        """Return the instrument a reading was taken with, if it was named."""
        return next((i for i in self.visit.instruments if i.id == reading.instrument), None)

    def _with_accuracy(self, reference: str, reading: Reading, index: int = 0) -> Number:
        self._note_unfit(reading)
        check, name = reference.rsplit(".", 1)
        entry = self._latest.get(self._key(check))
        place = (entry.number if entry else 0, name, index)
        values = self._errors.values
        if place not in values:
            values[place] = self._measure(reading)
        return values[place]

    def _note_unfit(self, reading: Reading) -> None:
        instrument = self.instrument(reading)
        if instrument is None:
            return
        value = float(to_si(float(reading.value), reading.unit))
        why = instrument.unfit_because(reading.at, unit(reading.unit).dimension, value)
        if why:
            self.unfit.add(why)

    def _measure(self, reading: Reading) -> Number:
        dimension = unit(reading.unit).dimension
        accuracy = self._accuracy(reading, dimension)
        if accuracy is None:
            return to_si(float(reading.value), reading.unit)
        own = gain(accuracy)
        if reading.instrument is not None:  # two readings by unnamed meters share nothing
            key = reading.instrument, dimension, accuracy.percent  # each range has its own
            own = self._errors.gains.setdefault(key, own)
        return measured(reading.value, reading.unit, accuracy, own)

    def _accuracy(self, reading: Reading, dimension: Dimension) -> Accuracy | None:
        instrument = self.instrument(reading)
        value = float(to_si(float(reading.value), reading.unit))
        stated = instrument.accuracy_for(dimension, value) if instrument else None
        return stated or default_accuracy(dimension)
