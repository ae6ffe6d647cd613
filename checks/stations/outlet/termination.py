"""How the conductors end at the outlet: torque, strands, strain relief, the metal's marking."""

from typing import Final

from checks.check import Caution, Check, CircuitState, Situation, YesNo, not_measured, together
from checks.stations.observing import Sign, signs_of
from checks.stations.outlet.where import is_receptacle
from checks.stations.torque import torque_check
from checks.verdict import Judgement, Severity


def _is_hard_wired(s: Situation) -> bool:
    return not is_receptacle(s)


REMAKE: Final = "Dead and locked: remake the joint and tighten it to the label"
SIGNS: Final = (
    Sign(
        YesNo("is_relieved", "Strain relief holds", good=True),
        "support",
        "Nothing holds the cable where it enters",
        "A pull on the cable works the terminals loose",
        "Dead and locked: fit the strain relief or connector that the entry is made for",
        Severity.WARNING,
    ),
    Sign(
        YesNo("are_strands_captured", "Every strand under the clamp", good=True),
        "one conductor",
        "Strands are outside the clamp or cut off",
        "Fewer strands carry all the current and burn",
        REMAKE,
        Severity.WARNING,
    ),
    Sign(
        YesNo("is_insulation_clear", "Clamp clear of insulation", good=True),
        "torque",
        "Insulation is caught under the clamp",
        "The clamp presses on plastic, which creeps, and not on metal",
        REMAKE,
        Severity.WARNING,
    ),
    Sign(
        YesNo("is_entry_sealed", "Entries and gasket tight", good=True, where=_is_hard_wired),
        "openings",
        "An entry or the gasket lets water in",
        "Water corrodes the terminals and bridges them",
        "Dead and locked: close the entry with a fitting of the enclosure's type",
        Severity.WARNING,
    ),
)


def _may_be_aluminum(s: Situation) -> bool:
    return s.choice("run.conductor.material") != "copper"


ALUMINUM: Final = Sign(
    YesNo(
        "is_marked_aluminum",
        "Marked for aluminum",
        good=True,
        optional=True,
        where=_may_be_aluminum,
    ),
    "aluminum terminals",
    "Aluminum conductors in terminals that are not marked for aluminum",
    "Aluminum creeps and oxidizes in a terminal made for copper, and burns",
    "Keep it dead; join to copper with a listed connector, or replace the conductor",
    Severity.DANGER,
)


def _judge_termination(s: Situation) -> Judgement:
    parts = list(signs_of(s, "outlet.termination", SIGNS))
    parts += _aluminum(s)
    metal = s.choice("run.conductor.material") or "the"
    return together(
        parts, good=f"{metal.capitalize()} conductors captured, clear and relieved of strain"
    )


def _aluminum(s: Situation) -> tuple[Judgement, ...]:
    metal = s.choice("run.conductor.material")
    if metal == "copper":
        return ()
    marked = s.yes("outlet.termination.is_marked_aluminum")
    if metal is None and not marked:  # terminals that are marked may hold either metal
        return (not_measured("Record the conductors' metal first: aluminum asks for a marking"),)
    if marked is None:
        return (not_measured("Still open: are the terminals marked for aluminum?"),)
    return signs_of(s, "outlet.termination", (ALUMINUM,))


TORQUE: Final = torque_check("outlet.terminal_torque", "outlet")

CHECKS: Final[tuple[Check, ...]] = (
    TORQUE,
    Check(
        id="outlet.termination",
        title="Termination, strain relief",
        how=(
            "Dead, locked and proved: open the charger's wiring compartment, or draw the "
            "receptacle from its box; look at each conductor in its terminal and at the entry."
        ),
        inputs=(*(sign.input for sign in SIGNS), ALUMINUM.input),
        judge=_judge_termination,
        state=CircuitState.DEAD,
        opens=True,
        cautions=(
            Caution(Severity.DANGER, "Open it only on a circuit that is dead, locked and proved."),
        ),
    ),
)
