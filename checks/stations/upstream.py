"""What the chargers put on the supply before their panels, some of them held at their panel."""

from collections.abc import Sequence
from dataclasses import dataclass

from checks.check import Check, Situation
from checks.quantity import SQRT_3
from checks.stations.circuit_facts import charger_loads, has_line_3, nominal_v
from checks.stations.group import PANEL
from checks.stations.line_share import Share, most_loaded_line
from checks.stations.management import checks_of
from checks.verdict import Verdict

Loads = Sequence[tuple[Situation, float]]
RECORD, *AT_WORK = checks_of(PANEL)


@dataclass(frozen=True)
class Flow:
    """Chargers, and what the load management of their panel holds each line to; None without [A].

    Parameters
    ----------
    loads : sequence of (Situation, float)
        Each charging point and its full current. [A]
    held_a : float, optional
        The limit as set. [A]
    panel : str
        The panel's name, where one holds them.
    """

    loads: Loads
    held_a: float | None = None
    panel: str = ""


def flows(s: Situation, loads: Loads) -> tuple[Flow, ...]:
    """Part the chargers into those of each panel that holds all of its own, and the rest.

    A panel holds them where its load management is recorded, listed and within, leaves no charger
    out, and no test of it at work was found outside.

    Parameters
    ----------
    s : Situation
        The site.
    loads : sequence of (Situation, float)
        Each charging point and its full current. [A]
    """
    held = []
    for panel in s.panels:
        held_a = _held_a(panel)
        here = [(p, amps) for p, amps in loads if p.panel.id == panel.subject]
        if held_a is not None and here:
            held.append(Flow(here, held_a, panel.panel.name))
    among = {p.subject for flow in held for p, _ in flow.loads}
    rest = [(p, amps) for p, amps in loads if p.subject not in among]
    return (*held, Flow(rest)) if rest else tuple(held)


def _held_a(s: Situation) -> float | None:
    """Return what a panel's load management holds all of its chargers to, if it is known to [A]."""
    if s.panel.is_service_equipment or PANEL.why_not(s) or PANEL.is_whole(s) is None:
        return None
    if len(PANEL.members(s)) < len(s.points) or _verdict(RECORD, s) is not Verdict.WITHIN:
        return None
    fails = any(_verdict(check, s) is Verdict.OUTSIDE for check in AT_WORK)
    return None if fails else PANEL.set_a(s)


def _verdict(check: Check, s: Situation) -> Verdict:
    return check.judge(s).verdict


def share_upstream(s: Situation, loads: Loads) -> Share:
    """Add the chargers' currents on the lines, those that a panel holds at most as it holds them.

    On which lines a panel relieves its chargers is not known: its limit adds as a plain number.

    Parameters
    ----------
    s : Situation
        The site.
    loads : sequence of (Situation, float)
        Each charging point and its full current. [A]
    """
    full, least_a, most_a = most_loaded_line(s, loads), 0.0, 0.0
    working = list(full.working)
    for flow in flows(s, loads):
        share = most_loaded_line(s, flow.loads)
        held_a = share.most_a if flow.held_a is None else flow.held_a
        least_a, most_a = least_a + min(share.least_a, held_a), most_a + min(share.most_a, held_a)
        if held_a < share.most_a:
            working.append(f"{flow.panel}: its load management holds each line to {held_a:g} A")
    return Share(min(full.least_a, least_a), min(full.most_a, most_a), tuple(working))


def all_held_a(s: Situation) -> float | None:
    """Return the sum of what the panels hold where each charger is held, on two lines [A]."""
    loads = charger_loads(s)
    if has_line_3(s):
        return None
    held = [flow.held_a for flow in flows(s, loads.known)]
    known = [amps for amps in held if amps is not None]
    return sum(known) if known and len(known) == len(held) else None


def held_va(s: Situation, loads: Loads, held_a: float | None) -> float:
    """Return what chargers draw with each line held to a current, at most all of their own [VA].

    Parameters
    ----------
    s : Situation
        The site.
    loads : sequence of (Situation, float)
        Each charging point and its full current. [A]
    held_a : float, optional
        What each line is held to; None where nothing holds them. [A]
    """
    full_va = sum(nominal_v(here) * amps for here, amps in loads)
    if held_a is None or not loads:
        return full_va
    # to neutral each of two lines bears its own
    volts = max(nominal_v(here) * (2 if here.point.level == 1 else 1) for here, _ in loads)
    if has_line_3(s):  # three lines bear √3 times what two of them do
        volts = SQRT_3 * s.visit.system.level_2_v
    return min(full_va, held_a * volts)
