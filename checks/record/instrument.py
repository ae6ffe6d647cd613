"""Instruments: kind, category, accuracy, calibration."""

from enum import StrEnum

from checks.quantity import Accuracy
from checks.record.model import Code, Day, Record, Text
from checks.units import Dimension


class InstrumentKind(StrEnum):
    """What a reading is taken with."""

    MULTIMETER = "multimeter"
    CLAMP = "clamp meter"
    INSULATION = "insulation tester"
    LOW_OHM = "low-resistance ohmmeter"
    LOOP = "loop tester"
    GROUND_FAULT = "ground-fault tester"
    PILOT = "pilot-signal tester"
    CONTACT_THERMOMETER = "contact thermometer"
    INFRARED = "infrared thermometer"
    TORQUE = "torque tool"
    FORCE = "force gauge"
    TAPE = "measuring tape"
    LOGGER = "load recorder"


class Category(StrEnum):
    """Measurement category, IEC 61010-2-030; none for a tool that touches no mains."""

    NONE = "none"
    CAT_II = "CAT II"
    CAT_III = "CAT III"
    CAT_IV = "CAT IV"

    def covers(self, needed: "Category") -> bool:
        """Whether an instrument of this category may be used where ``needed`` is asked."""
        order = list(Category)
        return order.index(self) >= order.index(needed)


class Instrument(Record):
    """One instrument of the technician's kit.

    Parameters
    ----------
    id : str
        Identity in the record.
    kind : InstrumentKind
        What it is.
    name, serial : str
        As the technician calls it, and the number on it.
    category : Category
        Measurement category marked on it.
    rated_v : int
        Highest voltage it may be used at. [V]
    calibration_due : str
        Date by which it is due, empty where there is none.
    accuracy : tuple of Accuracy
        Its limit of error for each quantity it measures.
    is_generic : bool
        A stated class rather than a data sheet that was read.
    """

    id: Code
    kind: InstrumentKind
    name: Text
    serial: Text = ""
    category: Category = Category.NONE
    rated_v: int = 0
    calibration_due: Day | None = None
    accuracy: tuple[Accuracy, ...] = ()
    is_generic: bool = True

    def accuracy_for(self, dimension: Dimension, value: float | None = None) -> Accuracy | None:
        """Return the stated accuracy for a quantity, if there is one.

        Parameters
        ----------
        dimension : Dimension
            What is measured.
        value : float, optional
            In the unit used inside: of several ranges, the first that covers it.
        """
        rows = [a for a in self.accuracy if a.dimension is dimension]
        fitting = [a for a in rows if value is None or a.covers(value)]
        return next(iter((*fitting, *reversed(rows))), None)

    def is_overdue(self, at: str) -> bool:
        """Whether its calibration had run out at a moment, or on a day; the day itself is in."""
        due = self.calibration_due
        return due is not None and at[: len(due)] > due

    def unfit_because(self, at: str, dimension: Dimension, value: float) -> str:
        """Return why a reading taken at a moment is not proved by this instrument; empty if it is.

        Parameters
        ----------
        at : str
            The reading's own time.
        dimension : Dimension
            What it is of.
        value : float
            In the unit used inside.
        """
        accuracy = self.accuracy_for(dimension, value)
        if self.is_overdue(at):
            return f"the {self.kind} was past its calibration, due on {self.calibration_due}"
        if accuracy is not None and not accuracy.covers(value):
            return f"a reading lies beyond the range of the {self.kind}"
        return ""
