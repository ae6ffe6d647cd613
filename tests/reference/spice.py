"""Circuits solved by ngspice: the netlists beside this file, and what it printed for them.

``python -m tests.reference.spice`` solves every netlist again and writes its numbers anew.
"""

import re
import subprocess
from functools import cache
from pathlib import Path
from shutil import which

from checks.electrical import pilot_circuit, pilot_faults, pilot_timing, proximity
from checks.electrical.pilot import PilotState
from checks.electrical.pilot_faults import Fault
from tests.reference.case import Case

NETLISTS = Path(__file__).parent / "netlists"
NAMES = ("pilot_peaks", "pilot_edges", "proximity")
INSTALL = "ngspice is missing: sudo apt-get install --no-install-recommends ngspice"

# The small-signal diode of the netlists has 0.72 to 0.78 V where a fixed 0.7 V is taken here.
DIODE_MODEL_V = 0.07
DIODE_MODEL_US = 0.06
LAST_DIGIT = 1e-4  # of every number that is compared

FAULTS = {
    "shorted": Fault.DIODE_SHORTED,
    "series": Fault.SERIES,
    "leak": Fault.LEAK,
    "to_ground": Fault.TO_GROUND,
    "to_proximity": Fault.TO_PROXIMITY,
    "open": Fault.OPEN,
}
CONNECTORS = {
    "nothing": None,
    "latched": proximity.LATCHED_OHM,
    "pressed": proximity.PRESSED_OHM,
}


class NoSpiceError(Exception):
    """The program is not here; the text says what to install."""


def numbers(text: str) -> dict[str, float]:
    """Named numbers among the lines that ngspice printed, nodes inside a part left out."""
    rows = re.findall(r"^(\w+) = (-?[\d.]+(?:e[+-]\d+)?)$", text, re.MULTILINE)
    return {name: float(value) for name, value in sorted(rows)}


def solved(name: str) -> dict[str, float]:
    """What ngspice says now."""
    program = which("ngspice")
    if program is None:
        raise NoSpiceError(INSTALL)
    done = subprocess.run(
        [program, "-b", str(NETLISTS / f"{name}.cir")],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,  # without a plot it ends with 1
    )
    return numbers(done.stdout)


@cache
def recorded(name: str) -> dict[str, float]:
    """What ngspice 39 said when the netlist was made."""
    return numbers((NETLISTS / f"{name}.out").read_text(encoding="utf-8"))


def _peak_v(state: PilotState, fault: str, ohm: float, end: str) -> float:
    circuit = pilot_circuit.healthy(state)
    if fault != "sound":
        circuit = pilot_faults.broken(state, FAULTS[fault], ohm)
    found = pilot_circuit.peaks(circuit)
    return found.positive_v if end == "p" else found.negative_v


def _peak(name: str, volts: float) -> Case:
    matched = re.fullmatch(r"([a-d])_([a-z_]+?)(?:_(\d+))?_([pn])", name)
    assert matched
    letter, fault, ohm, end = matched.groups()
    state = PilotState[letter.upper()]
    conducts = end == "p" or fault in ("shorted", "to_proximity")
    return Case(
        "pilot circuit",
        f"ngspice, pilot_peaks.cir, {name}",
        lambda: _peak_v(state, fault, float(ohm or 0), end),
        volts,
        DIODE_MODEL_V if conducts and fault != "shorted" else LAST_DIGIT,
    )


def _edge(name: str, value: float) -> Case:
    matched = re.fullmatch(r"([a-d])(_small)?_(rise_us|fall_us|duty_pct)", name)
    assert matched
    letter, small, what = matched.groups()
    state = PilotState[letter.upper()]
    farads = 300e-12 if small or state is PilotState.A else 4.2e-9

    def found() -> float:
        edges = pilot_timing.edges(state, farads)
        if what == "duty_pct":
            return 53.3333 + edges.duty_change_pct
        return 1e6 * (edges.rise_s if what == "rise_us" else edges.fall_s)

    return Case(
        "pilot circuit",
        f"ngspice, pilot_edges.cir, {name}",
        found,
        value,
        0.002 if what == "duty_pct" else DIODE_MODEL_US,
    )


def _proximity(name: str, volts: float) -> Case:
    connector, _, rest = name.partition("_")
    ohm = CONNECTORS[connector]

    def found() -> float:
        if rest in ("low", "high"):
            return proximity.voltage_window_v(ohm)[rest == "high"]
        if ohm is None or not rest:
            return proximity.expected_v(ohm)
        return proximity.expected_v(ohm + float(rest))

    return Case("proximity", f"ngspice, proximity.cir, {name}", found, volts, LAST_DIGIT)


def _contact(name: str, volts: float) -> Case:
    """The contact's resistance back from its voltage."""
    connector, _, contact = name.partition("_")
    return Case(
        "proximity",
        f"ngspice, proximity.cir, {name}, turned around",
        lambda: proximity.series_ohm(volts, CONNECTORS[connector] or 0.0),
        float(contact),
        0.01,
    )


CASES = (
    *(_peak(*row) for row in recorded("pilot_peaks").items()),
    *(_edge(*row) for row in recorded("pilot_edges").items()),
    *(_proximity(*row) for row in recorded("proximity").items()),
    *(_contact(*row) for row in recorded("proximity").items() if row[0][-1].isdigit()),
)


if __name__ == "__main__":
    for each in NAMES:
        lines = [f"{name} = {value:.7g}" for name, value in solved(each).items()]
        (NETLISTS / f"{each}.out").write_text("\n".join(lines) + "\n", encoding="utf-8")
