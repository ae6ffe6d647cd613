"""What burns at panel and service beside the breaker's lug: stab, main lugs, and the neutrals."""

from typing import Final

from checks.causes.cause import Cause
from checks.causes.library.declare import LOOKED_INTO, WHERE, cause, says
from checks.causes.library.overcurrent import HANDLE, LIKE_PARTS, THERMAL
from checks.path import Station
from checks.source import judgement
from checks.stations.observing import PANEL_DEAD
from checks.stations.service_neutral import PARTED, REMEDY
from checks.verdict import Severity

DROP: Final = judgement(
    "volts lost in a joint are lost where the meter's probes span it (Ohm's law)"
)
RETURN: Final = judgement("at 120 V the charge comes back by the neutral, line to line it does not")

LIGHTS: Final = judgement(
    "common practice, no source: lights that brighten as others dim tell of a lost neutral"
)

CAUSES: Final[tuple[Cause, ...]] = (
    cause(
        "burnt_stab",
        "Breaker's grip on the bus burnt",
        Station.BREAKER,
        4.0,
        says("trips", THERMAL, never=0.5, at_once=0.3, minutes=2.4, hours=3.8, random=1.6),
        says("trip_kind", HANDLE, overcurrent=1.6),
        says("breaker_marks", yes=14.0),
        says("panel_marks", yes=50.0),
        says("panel_burn", WHERE, none=0.43, breaker=13.0, bus=112.0, neutral=0.3, main=0.3),
        says("breaker_warmth", LIKE_PARTS, like=0.2, warmer=4.5, hotter=68.0),
        says("breaker_screws", loose=0.9),
        says("breaker_lug", WHERE, yes=2.0),
        says("breaker_rocks", WHERE, yes=13.0),
        says("stab", WHERE, yes=37.0),
        says("breaker_case", WHERE, yes=1.5),
        says("loss", DROP, none=0.38, trace=2.67, joint=21.0),
        proof=("stab=yes",),
        explanation="A clip that lost its grip arcs on the bus, and heats the breaker from behind",
        remedy="With the panel dead and proved, replace breaker and burnt bus together by the "
        "panel maker's part, the breaker listed for the panel and tightened to its label; a burnt "
        "stab is not filed, and no breaker goes on it again",
        verify=(
            "breaker.joints",
            "panel.breaker_listed",
            "breaker.terminal_torque",
            "breaker.temperature",
            "outlet.loaded_voltage",
        ),
        severity=Severity.DANGER,
        needs=LOOKED_INTO,
    ),
    cause(
        "loose_neutral_bar",
        "Loose neutral in the panel",
        Station.PANEL,
        3.0,
        says("charger_volts", RETURN, **{"120": 3.1, "more": 0.1}),
        says("panel_marks", yes=50.0),
        says("panel_burn", WHERE, none=0.47, neutral=166.0, breaker=0.5, bus=0.5, main=0.5),
        says("neutral_moves", WHERE, yes=28.0),
        says("loss", DROP, none=0.45, trace=2.67, joint=15.0),
        says("stops", no=0.7, minutes=1.8, random=3.5),
        says("slow", yes=2.0),
        says("with_other_loads", yes=2.0),
        proof=("neutral_moves=yes", "panel_burn=neutral"),
        explanation="The current comes back over a screw that holds the neutral loosely, and burns "
        "it",
        remedy="With the panel dead and proved, cut the wire back to sound metal, land it alone "
        "under its screw and tighten it to the label; replace a bar that is burnt by the panel "
        "maker's part",
        verify=(
            "panel.terminals",
            "panel.terminal_torque",
            "panel.neutral_bond",
            "outlet.loaded_voltage",
        ),
        severity=Severity.DANGER,
        needs=PANEL_DEAD,
    ),
    cause(
        "loose_main_lug",
        "Loose main or feeder lug",
        Station.PANEL,
        3.0,
        says("panel_marks", yes=60.0),
        says("panel_burn", WHERE, none=0.49, main=160.0, breaker=0.5, bus=0.5, neutral=0.5),
        says("lug_moves", WHERE, yes=35.0),
        says("loss", DROP, none=0.6, supply=24.0),
        says("volts", DROP, right=0.877, low=8.0),
        says("slow", yes=1.8, no=0.8),
        says("stops", no=0.85, minutes=1.5, random=2.5),
        says("with_other_loads", yes=2.5),
        proof=("panel_burn=main", "lug_moves=yes"),
        explanation="All that the panel feeds heats this joint, and a charge does so for hours",
        remedy="With the supply cut off ahead of it, at service equipment by the utility, and the "
        "panel dead and proved, replace burnt lugs or main by the panel maker's part, cut the "
        "conductors back and tighten them to the label",
        verify=(
            "panel.terminals",
            "panel.terminal_torque",
            "service.supply_voltage",
            "outlet.loaded_voltage",
        ),
        severity=Severity.DANGER,
        needs=PANEL_DEAD,
    ),
    cause(
        "loose_service_neutral",
        "Loose or open neutral of the service",
        Station.SERVICE,
        2.0,
        says("supply_legs", PARTED, apart=50.0),
        says("moving_legs", PARTED, apart=60.0),
        says("with_lights", LIGHTS, yes=20.0),
        says("with_other_loads", yes=4.0),
        says("loss", DROP, none=0.86, supply=12.0),
        says("volts", DROP, right=0.91, low=6.0),
        says("starts", charges=0.9, fault=2.0),
        says("stops", no=0.8, random=3.5),
        says("since_storm", yes=2.0),
        proof=("supply_legs=apart", "moving_legs=apart"),
        explanation="Without its neutral the legs share the volts by what hangs on each: one "
        "rises, the other falls, and what hangs on the high one burns",
        remedy=REMEDY,
        verify=("service.supply_voltage", "outlet.no_load_voltage", "outlet.loaded_voltage"),
        severity=Severity.DANGER,
    ),
)
