"""What a judgement holds, with what it gives to be drawn and followed."""

from checks.quantity import Amount
from checks.source import Source
from checks.verdict.limit import Limit, Shown
from checks.verdict.words import Severity, Verdict


class VoltageStep(Shown):
    """One step of the voltage staircase.

    Parameters
    ----------
    label : str
        The place on the path.
    no_load_v, loaded_v : str
        Volts read there without and with load. [V]
    metal_v : str
        Volts that would be left under load if nothing but metal lay on the way. [V]
    """

    label: str
    no_load_v: str = ""
    loaded_v: str = ""
    metal_v: str = ""


class Tracked(Shown):
    """A quantity that is followed from visit to visit, brought to conditions that compare.

    Parameters
    ----------
    amount : Amount
        The value with its uncertainty; ``of`` names it, the same at every visit.
    limits : tuple of Limit
        What it is held against.
    at : Amount, optional
        The current it was brought to, where it grows with the current.
    """

    amount: Amount
    limits: tuple[Limit, ...]
    at: Amount | None = None


class HeatPoint(Shown):
    """One point of a heating curve: minutes since the first reading, and temperature."""

    minute: str
    value: str
    is_left_out: bool = False


class HeatEnd(Shown):
    """Where a heating curve ends at a current: best value and bounds; open upward without ``high``.

    Parameters
    ----------
    label : str
        At which current.
    low, value, high : str
        Temperatures.
    """

    label: str
    low: str
    value: str
    high: str = ""


class HeatLine(Shown):
    """A temperature that a heating curve is held against."""

    label: str
    value: str
    is_stop: bool = False


class HeatingCurve(Shown):
    """A heating curve as it is drawn; all temperatures in the unit that was read.

    Parameters
    ----------
    unit : str
        "°C" or "°F".
    says : str
        What the readings allow to be said of the end, in one sentence.
    is_settled : bool
        Nothing is gained by measuring on: a forecast stands, or the test has ended.
    readings, like : tuple of HeatPoint
        Of the part, and of a like part.
    curve : tuple of HeatPoint
        The best curve, to its end; empty without a fit.
    ends : tuple of HeatEnd
        At the current of the test, and at full current.
    lines : tuple of HeatLine
        Air, limits and the stop temperature.
    """

    unit: str
    says: str
    is_settled: bool = False
    readings: tuple[HeatPoint, ...] = ()
    like: tuple[HeatPoint, ...] = ()
    curve: tuple[HeatPoint, ...] = ()
    ends: tuple[HeatEnd, ...] = ()
    lines: tuple[HeatLine, ...] = ()


class Judgement(Shown):
    """What a check's judge says.

    Parameters
    ----------
    verdict : Verdict
        One of the five words.
    explanation : str
        One sentence: what was found, against what.
    measured : Amount, optional
        The deciding value with its uncertainty.
    limits : tuple of Limit
        The limits as computed here; filled even when nothing has been measured yet, so that the
        limit is in view before the number is typed.
    margin : Amount, optional
        How far the value is from the nearest limit; negative beyond it.
    why : str
        Why it matters.
    remedy : str
        What to do about it, when not within.
    settles : str
        For a borderline verdict, what would settle it.
    severity : Severity, optional
        For a finding.
    sources : tuple of Source
        What the verdict rests on, beside the limits' own sources.
    working : tuple of str
        The arithmetic, line by line.
    telling : str
        The one number or word that the station shows on the path.
    steps : tuple of VoltageStep
        What this judgement adds to the voltage staircase.
    heating : HeatingCurve, optional
        The heating curve that it rests on.
    tracked : tuple of Tracked
        What is followed from visit to visit.
    """

    verdict: Verdict
    explanation: str
    measured: Amount | None = None
    limits: tuple[Limit, ...] = ()
    margin: Amount | None = None
    why: str = ""
    remedy: str = ""
    settles: str = ""
    severity: Severity | None = None
    sources: tuple[Source, ...] = ()
    working: tuple[str, ...] = ()
    telling: str = ""
    steps: tuple[VoltageStep, ...] = ()
    heating: HeatingCurve | None = None
    tracked: tuple[Tracked, ...] = ()
