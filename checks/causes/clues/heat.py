"""Clues from heat: what is burnt, what is warm, what sits loose."""

from typing import Final

from checks.causes.clue import Clue, View, fault, last_picked, outcomes, picked, said, sign
from checks.verdict import Verdict


def _burn_place(view: View) -> str | None:
    """Tell where it is burnt; nothing where another look found no heat marks at all."""
    place = view.situation.choice("outlet.burn_pattern.place")
    is_unmarked = view.situation.yes("outlet.damage.has_heat_marks") is False
    return None if is_unmarked and place != "none" else place


def _stop_sign(station: str) -> Clue:
    check = f"{station}.temperature"

    def read(view: View) -> str | None:
        if view.situation.choice(f"{check}.sign") not in (None, "none"):
            return "hot"
        verdict = view.verdict(check)
        if verdict is Verdict.OUTSIDE:
            return "hot"
        surface_c = view.situation.measured(f"{check}.surface")
        return None if surface_c is None or verdict is None else "cool"

    return Clue(
        f"{station}_warmth",
        check,
        outcomes(
            ("cool", 0.93, f"The surface of the {station} stays cool, which proves little"),
            ("hot", 0.07, f"The {station} gets hot under load"),
        ),
        "cool",
        read,
        f"heat at the {station}",
    )


# What pins can show; the first that was seen counts.
PINS: Final = {
    "has_burn_marks": "burnt",
    "is_pitted": "worn",
    "has_debris": "dirty",
}


def _pins(station: str) -> Clue:
    check = f"{station}.pins"

    def read(view: View) -> str | None:
        answers = [view.situation.yes(f"{check}.{name}") for name in PINS]
        if True in answers:
            return list(PINS.values())[answers.index(True)]
        return None if None in answers else "clean"

    return Clue(
        f"{station}_pins",
        check,
        outcomes(
            ("clean", 0.88, f"The pins of the {station} are clean and whole"),
            ("burnt", 0.04, f"The pins of the {station} are burnt"),
            ("worn", 0.04, f"The pins of the {station} are pitted or worn"),
            ("dirty", 0.04, f"Dirt, water or corrosion in the {station}"),
        ),
        "clean",
        read,
        f"heat at the {station}",
    )


def _housing(station: str) -> Clue:
    """Return the clue of a cracked housing: no sign of the pins, but of a blow and of water."""
    return sign(
        f"{station}_housing",
        f"{station}.pins.is_cracked",
        0.02,
        f"Housing or latch of the {station} is cracked",
        f"Housing and latch of the {station} are whole",
    )


CLUES: Final[tuple[Clue, ...]] = (
    sign(
        "outlet_marks",
        "outlet.damage.has_heat_marks",
        0.06,
        "Heat marks at the outlet",
        "No heat marks at the outlet",
        "heat at the outlet",
    ),
    _stop_sign("outlet"),
    Clue(
        "burn_place",
        "outlet.burn_pattern",
        outcomes(
            ("none", 0.936, "Nothing at the outlet is burnt"),
            ("terminal", 0.02, "Burnt at a terminal screw"),
            ("contact", 0.02, "Burnt at a blade's contact"),
            ("cord", 0.012, "Burnt in plug or cord"),
            ("even", 0.012, "Browned evenly, all blades alike"),
        ),
        "none",
        _burn_place,
        "heat at the outlet",
    ),
    sign(
        "arc_beads",
        "outlet.burn_pattern.has_arc_beads",
        0.05,
        "Beads of metal at the blades' tips",
        "No beads of metal at the blades",
    ),
    Clue(
        "outlet_screws",
        "outlet.terminal_torque",
        outcomes(
            ("not loose", 0.95, "No terminal at the outlet was found loose"),
            ("loose", 0.05, "A terminal at the outlet was found loose"),
        ),
        "not loose",
        last_picked("outlet.terminal_torque.found", "loose", "not loose"),
    ),
    fault(
        "termination",
        "outlet.termination",
        0.04,
        "A wire sits wrong in its terminal",
        "The wires sit right in their terminals",
        rests_on=("run.conductor",),
    ),
    Clue(
        "grip",
        "outlet.retention",
        outcomes(
            ("firm", 0.93, "The receptacle grips firmly"),
            ("loose", 0.07, "The receptacle grips loosely"),
        ),
        "firm",
        picked("outlet.retention.feel"),
    ),
    Clue(
        "grade",
        "outlet.grade",
        outcomes(
            ("charging", 0.35, "The receptacle is made for daily charging"),
            ("industrial", 0.2, "The receptacle is of industrial grade"),
            ("residential", 0.45, "The receptacle is of residential grade"),
        ),
        "",
        picked("outlet.grade.grade", "charging", "industrial", "residential"),
    ),
    sign(
        "extension",
        "outlet.mounting.is_cord_extended",
        0.07,
        "An extension cord or plug adapter is in the path",
        "No extension cord or plug adapter",
    ),
    Clue(
        "strain",
        "outlet.mounting",
        outcomes(
            ("yes", 0.9, "The plug hangs without strain"), ("no", 0.1, "The plug is under strain")
        ),
        "yes",
        said("outlet.mounting.is_plug_free"),
    ),
    _pins("connector"),
    _housing("connector"),
    _stop_sign("connector"),
    _pins("adapter"),
    _housing("adapter"),
    _stop_sign("adapter"),
    sign(
        "charger_marks",
        "charger.damage.has_heat_marks",
        0.03,
        "Heat marks at the charger",
        "No heat marks at the charger",
    ),
)
