"""Clues from panel and breaker: what is burnt there, what is warm, what sits loose."""

from typing import Final

from checks.causes.clue import Clue, View, any_said, last_picked, outcomes, sign
from checks.electrical.thermography import LIKE_MAJOR_K, LIKE_POSSIBLE_K
from checks.quantity import expanded, nominal

HOT_AIR_C: Final = 45.0  # air at the panel from which a breaker has clearly less room: judgement
HEAT: Final = "heat at the breaker"
BURN: Final = "burn in the panel"
TERMINALS: Final = "panel.terminals"


def _breaker_warmth(view: View) -> str | None:
    """Compare the breaker's face with its neighbor's, which has the same air."""
    s = view.situation
    face_c = s.measured("breaker.temperature.face")
    neighbor_c = s.measured("breaker.temperature.neighbor")
    if face_c is None or neighbor_c is None:
        return None
    over = face_c - neighbor_c
    if nominal(over) - expanded(over) > LIKE_POSSIBLE_K:
        return "hotter" if nominal(over) > LIKE_MAJOR_K else "warmer"
    return "like"


def _panel_air(view: View) -> str | None:
    """Tell whether the air at the panel leaves a breaker clearly less room."""
    air_c = view.situation.measured("breaker.temperature.air")
    if air_c is None:
        return None
    return "hot" if nominal(air_c) > HOT_AIR_C else "mild"


def _panel_burn(view: View) -> str | None:
    """Tell where in the panel it is burnt deepest."""
    s = view.situation
    if s.yes(f"{TERMINALS}.has_heat_marks") is False:
        return "none"
    return s.choice(f"{TERMINALS}.place")


def _volts(view: View) -> str | None:
    """Tell whether the charger's own current comes back by a neutral."""
    volts = view.situation.choice("charger.nameplate.volts")
    return None if volts is None else ("120" if volts == "120" else "more")


CLUES: Final[tuple[Clue, ...]] = (
    Clue(
        "breaker_marks",
        "breaker.condition",
        outcomes(
            ("no", 0.97, "No heat marks or damage at the breaker"),
            ("yes", 0.03, "Heat marks or damage at the breaker"),
        ),
        "no",
        any_said("breaker.condition.has_heat_marks", "breaker.condition.is_damaged"),
        HEAT,
    ),
    sign(
        "panel_marks",
        "panel.condition.has_heat_marks",
        0.006,
        "Heat marks or a burnt smell at the panel",
        "No heat marks and no burnt smell at the panel",
        HEAT,
    ),
    Clue(
        "panel_burn",
        TERMINALS,
        outcomes(
            ("none", 0.98, "Nothing inside the panel is burnt"),
            ("breaker", 0.006, "Burnt at a breaker's terminal"),
            ("bus", 0.004, "Burnt where a breaker sits on the bus"),
            ("neutral", 0.003, "Burnt at the neutral bar"),
            ("main", 0.003, "Burnt at the main or feeder lugs"),
            ("other", 0.004, "Burnt elsewhere in the panel"),
        ),
        "none",
        _panel_burn,
        BURN,
    ),
    Clue(
        "breaker_warmth",
        "breaker.temperature",
        outcomes(
            ("like", 0.942, "The breaker is as warm as its neighbor"),
            ("warmer", 0.05, "The breaker is warmer than its neighbor"),
            ("hotter", 0.008, "The breaker is far hotter than its neighbor"),
        ),
        "like",
        _breaker_warmth,
        HEAT,
    ),
    Clue(
        "panel_air",
        "breaker.temperature",
        outcomes(
            ("mild", 0.92, "The air at the panel leaves the breaker room"),
            ("hot", 0.08, "The air at the panel is hot"),
        ),
        "mild",
        _panel_air,
    ),
    Clue(
        "breaker_screws",
        "breaker.terminal_torque",
        outcomes(
            ("not loose", 0.95, "The breaker's terminals were not found loose"),
            ("loose", 0.05, "A terminal of the breaker was found loose"),
        ),
        "not loose",
        last_picked("breaker.terminal_torque.found", "loose", "not loose"),
    ),
    sign(
        "breaker_lug",
        "breaker.joints.is_lug_burnt",
        0.03,
        "Wire or lug of the breaker is discolored",
        "Wire and lug of the breaker are clean",
        BURN,
    ),
    sign(
        "breaker_rocks",
        "breaker.joints.is_rocking",
        0.04,
        "The breaker rocks in its place",
        "The breaker sits firm in its place",
    ),
    sign(
        "stab",
        "breaker.joints.is_stab_burnt",
        0.025,
        "The breaker's stab or clip is burnt",
        "The breaker's stab and clip are clean",
    ),
    sign(
        "breaker_case",
        "breaker.joints.is_worn",
        0.015,
        "The breaker's case is cracked, or it does not latch",
        "The breaker's case is whole and it latches",
    ),
    sign(
        "neutral_moves",
        f"{TERMINALS}.is_neutral_loose",
        0.03,
        "A neutral moves in its terminal",
        "No neutral moves in its terminal",
    ),
    sign(
        "lug_moves",
        f"{TERMINALS}.is_lug_loose",
        0.02,
        "A feeder conductor moves in its lug",
        "No feeder conductor moves in its lug",
    ),
    Clue(
        "charger_volts",
        "charger.nameplate",
        outcomes(
            ("120", 0.3, "The charger's current comes back by the neutral"),
            ("more", 0.7, "The charger takes its current from two lines"),
        ),
        "",
        _volts,
    ),
)
