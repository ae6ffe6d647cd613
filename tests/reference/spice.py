"""A faulty pilot solved by ngspice: the netlist beside this file, and what it printed for it.

Each fault's peaks, as ngspice has them, must lead back to the fault and its ohms.
``python -m tests.reference.spice`` solves the netlist again and writes its numbers anew.
"""

import re
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from shutil import which

from checks.electrical import pilot_circuit, pilot_faults
from checks.electrical.pilot import PilotState
from checks.electrical.pilot_faults import Fault
from tests.reference.case import Case

NETLISTS = Path(__file__).parent / "netlists"
NAMES = ("pilot_peaks",)
INSTALL = "ngspice is missing: sudo apt-get install --no-install-recommends ngspice"

# The small-signal diode of the netlist has 0.72 to 0.79 V where a fixed 0.7 V is taken here.
DIODE_MODEL_V = 0.09
LEAK_RATIO = 1e-3  # of a leak, from the printed digits of its negative peak

FAULTS = {
    "shorted": Fault.DIODE_SHORTED,
    "series": Fault.SERIES,
    "leak": Fault.LEAK,
    "to_ground": Fault.TO_GROUND,
    "to_proximity": Fault.TO_PROXIMITY,
    "open": Fault.OPEN,
}
# Contacts of so few ohms that the peak stays in a window that the standard prints for a sound
# pilot, its own (B to 9.56 V, C to 6.49 V) or, at the last, that of C; and a leak below -11.4 V.
HIDDEN = {
    "b_series_100",
    "b_series_270",
    "b_series_500",
    "c_series_100",
    "d_series_500",
    "a_leak_30000",
    "b_leak_30000",
    "c_leak_30000",
    "d_leak_30000",
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


def _suspected(positive_v: float, negative_v: float, state: PilotState) -> Fault | None:
    is_there = state is not PilotState.A
    found = pilot_faults.suspicions(positive_v, negative_v, is_vehicle_there=is_there)
    return found[0].fault if found else None


def _cases(name: str, positive_v: float, negative_v: float) -> Iterator[Case]:
    """The fault back from its peaks, and its ohms where it has some."""
    matched = re.fullmatch(r"([a-d])_([a-z_]+?)(?:_(\d+))?", name)
    assert matched
    state, fault, ohm = PilotState[matched[1].upper()], matched[2], float(matched[3] or 0)
    document = f"ngspice, pilot_peaks.cir, {name}"
    yield Case(
        "pilot circuit",
        document,
        lambda: _suspected(positive_v, negative_v, state),
        None if name in HIDDEN else FAULTS.get(fault),
    )
    if fault == "series" or (fault == "sound" and state is not PilotState.A):
        yield Case(
            "pilot circuit",
            f"{document}, its ohms",
            lambda: pilot_circuit.series_ohm(positive_v, state),
            ohm,
            DIODE_MODEL_V * 1000 / (12 - positive_v),  # what the diode's volts are worth, in ohms
        )
    if fault == "leak":
        yield Case(
            "pilot circuit",
            f"{document}, its ohms",
            lambda: pilot_circuit.leak_ohm(negative_v),
            ohm,
            LEAK_RATIO * ohm,
        )


def _pairs() -> Iterator[tuple[str, float, float]]:
    peaks = recorded("pilot_peaks")
    for name in peaks:
        if name.endswith("_p"):
            stem = name.removesuffix("_p")
            yield stem, peaks[name], peaks[f"{stem}_n"]


CASES = tuple(case for pair in _pairs() for case in _cases(*pair))


if __name__ == "__main__":
    for each in NAMES:
        lines = [f"{name} = {value:.7g}" for name, value in solved(each).items()]
        (NETLISTS / f"{each}.out").write_text("\n".join(lines) + "\n", encoding="utf-8")
