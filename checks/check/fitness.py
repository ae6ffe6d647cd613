"""Whether an instrument is fit for what is measured with it: its kind, category and volts."""

from checks.check.declaration import Check
from checks.check.inputs import Measurement
from checks.check.situation import Situation
from checks.path import Scope
from checks.record import Category, Instrument, Reading, Readings


def unfit_for(asked: Measurement, tool: Instrument, volts: int) -> str:
    """Return why an instrument is not for a measurement, whoever took it; empty where it is.

    Parameters
    ----------
    asked : Measurement
        With the kinds it may be taken with and the category its place needs.
    tool : Instrument
        What it was, or is to be, taken with.
    volts : int
        Nominal volts between the lines there. [V]
    """
    if asked.instruments and tool.kind not in asked.instruments:
        return f"the {tool.kind} is none of what it takes here: {', '.join(asked.instruments)}"
    if not tool.category.covers(asked.category):
        return (
            f"the category of the {tool.kind} is {tool.category}, where it takes {asked.category}"
        )
    if asked.category is not Category.NONE and tool.rated_v < volts:
        return f"the {tool.kind} is for {tool.rated_v} V, where there are {volts} V"
    return ""


def volts_at(situation: Situation, check: Check) -> int:
    """Return the nominal volts between the lines where a check is made. [V]."""
    if check.station.scope is Scope.POINT:
        return situation.point.nominal_v
    return situation.visit.system.level_2_v


def unfit_tools(situation: Situation, check: Check) -> set[str]:
    """Return why readings of a check are not proved by what they were taken with."""
    entry = situation.entry(check.id)
    found = set()
    for answer in entry.answers if entry is not None else ():
        asked = check.input(answer.input)
        taken = answer.readings if isinstance(answer, Readings) else (answer,)
        if not isinstance(asked, Measurement):
            continue
        tools = (situation.instrument(r) for r in taken if isinstance(r, Reading))
        found |= {unfit_for(asked, t, volts_at(situation, check)) for t in tools if t is not None}
    return found - {""}
