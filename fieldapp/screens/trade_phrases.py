"""What several screens say of checks, limits and instruments."""

from collections.abc import Mapping, Sequence
from functools import cache
from typing import Final

from checks.assess import Row
from checks.check import AnyInput, Check, CircuitState, Measurement, Rating
from checks.path import Station
from checks.record import Category, Instrument
from checks.stations.all import CHECKS
from checks.verdict import Limit, Side, Verdict
from fieldapp.screens.phrases import sentence
from fieldapp.walk.agenda import Step

CUSTOMARY: Final = ("ft", "in", "ft²", "°F", "°F rise", "lbf·in", "lbf·ft", "lbf", "ozf")


def limit_line(limit: Limit) -> str:
    """Say a limit in one phrase, with what it is a limit of."""
    of = f"{sentence(limit.amount.of).rstrip('.')}: " if limit.amount.of else ""
    return f"{of}{limit}"


def limits_line(limits: Sequence[Limit]) -> str:
    """Say several limits in one line, two sides of one thing together."""
    sides: dict[str, dict[Side, Limit]] = {}
    for limit in limits:
        sides.setdefault(limit.amount.of, {}).setdefault(limit.side, limit)
    return "; ".join(_both_sides(of, found) for of, found in sides.items())


def _both_sides(of: str, found: Mapping[Side, Limit]) -> str:
    if len(found) == len(Side):
        return between(list(found.values()), is_named=bool(of))
    name = f"{sentence(of).rstrip('.')}: " if of else ""
    return name + ", ".join(str(limit) for limit in found.values())


def between(limits: Sequence[Limit], *, is_named: bool) -> str:
    """Say the two sides of one thing in one phrase, with what it is where that is asked for."""
    low, high = sorted(limits, key=lambda x: x.side is Side.AT_MOST)
    name = f"{sentence(low.amount.of).rstrip('.')}: " if is_named and low.amount.of else ""
    least = low.amount.value if low.amount.unit == high.amount.unit else low.amount
    return f"{name}{least} to {high.amount}"


def limit_origin(limit: Limit) -> str:
    """Say what stands behind a limit and where it comes from, the basis plainly."""
    return f"{limit.force} · {limit.source}"


def row_line(step: Step) -> str:
    """Say in one line what a check stands at: verdict, number, or why it is shut."""
    judged = step.row.judgement
    parts = [str(judged.verdict)]
    if judged.telling:
        parts.append(judged.telling)
    if judged.verdict is Verdict.NOT_MEASURED and step.is_done:
        parts.append(judged.explanation)
    elif step.shut_because and not step.is_done:
        parts.append(step.shut_because)
    elif step.row.state is not CircuitState.ANY:
        parts.append(str(step.row.state))
    return " · ".join(parts)


def units_of(asked: Measurement | Rating, *, is_customary: bool) -> tuple[str, ...]:
    """Return the units of an input, those of the technician's system first."""
    return tuple(sorted(asked.units, key=lambda u: is_customary and u not in CUSTOMARY))


@cache
def _asked_elsewhere() -> frozenset[str]:
    """Return the questions that more than one station asks, as they are shown there."""
    stations: dict[str, set[Station]] = {}
    for check in CHECKS:
        for asked in check.inputs:
            stations.setdefault(_bare(asked.label), set()).add(check.station)
    return frozenset(label for label, found in stations.items() if len(found) > 1)


def _bare(label: str) -> str:
    return label.rpartition(": ")[2].lower()


def question_title(check: Check, asked: AnyInput) -> str:
    """Say a question, with the part that is meant where another part is asked the same."""
    if _bare(asked.label) in _asked_elsewhere():
        return f"{check.station.value.capitalize()} · {asked.label}"
    return asked.label


def row_key(row: Row) -> str:
    """Name a row of the assessment in one word, for a position."""
    return f"{row.check}@{row.subject}"


def kit_line(tool: Instrument) -> str:
    """Say what an instrument is fit for, its number and its calibration."""
    due = f"calibration due {tool.calibration_due}" if tool.calibration_due else ""
    serial = f"no. {tool.serial}" if tool.serial else ""
    category = str(tool.category) if tool.category is not Category.NONE else ""
    return " · ".join(x for x in (category, serial, due) if x) or "no category, no calibration date"
