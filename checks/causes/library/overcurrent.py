"""Why a breaker trips by heat or by current."""

from typing import Final

from checks.causes.cause import Cause
from checks.causes.library.declare import CIRCUIT_DEAD, PANEL_DEAD, cause, says
from checks.path import Station
from checks.source import judgement
from checks.verdict import Severity

THERMAL: Final = judgement("time to trip by the thermal model of UL 489's calibration points")
LIKE_PARTS: Final = judgement("hotter than a like part, after NETA ATS 2003 table 100.18")
HANDLE: Final = judgement("the handle or the light of the device says which element opened")

CAUSES: Final[tuple[Cause, ...]] = (
    cause(
        "charger_set_high",
        "Charger set above what its circuit carries",
        Station.CHARGER,
        14.0,
        says("trips", THERMAL, never=0.25, at_once=0.3, minutes=1.7, hours=5.5, random=1.1),
        says("trip_kind", HANDLE, overcurrent=1.6),
        says("setting", over=23.0),
        says("offer", over=8.0),
        says("breaker_warmth", LIKE_PARTS, warmer=4.2),
        says("on_hot_days", yes=2.0),
        says("since_new", yes=2.5),
        says("conductor", bad=15.0),
        proof=("setting=over",),
        explanation="More than 80 % of the breaker's rating for hours heats it until it trips",
        remedy="Have the charger's setting brought down to what the circuit carries, and labelled",
        verify=("charger.configuration", "breaker.rating", "charger.offered_current"),
        severity=Severity.WARNING,
    ),
    cause(
        "shared_circuit",
        "Other loads on the charger's circuit",
        Station.RUN,
        10.0,
        says("trips", THERMAL, never=0.12, at_once=0.3, minutes=5.6, hours=1.2, random=3.4),
        says("trip_kind", HANDLE, overcurrent=1.6),
        says("with_other_loads", yes=6.0),
        says("breaker_warmth", LIKE_PARTS, warmer=8.0),
        says("sharing", THERMAL, alone=0.03, light=0.15, shared=3.2, trips=38.0),
        proof=("sharing=trips",),
        explanation="Charger and other loads together are more than the breaker holds",
        remedy="Give the charger a circuit of its own, or keep the other loads off while it "
        "charges and set the charger down",
        verify=("run.dedicated", "breaker.rating"),
        severity=Severity.WARNING,
    ),
    cause(
        "loose_at_breaker",
        "Loose terminal at the breaker",
        Station.BREAKER,
        12.0,
        says("trips", THERMAL, never=0.5, at_once=0.3, minutes=2.4, hours=3.8, random=1.6),
        says("trip_kind", HANDLE, overcurrent=1.6),
        says("breaker_marks", yes=16.0),
        says("breaker_warmth", LIKE_PARTS, like=0.15, warmer=4.5, hotter=75.0),
        says("breaker_screws", loose=18.5),
        says("loss", none=0.348, trace=2.67, joint=24.0),
        says("outlet_marks", no=1.02),
        proof=("breaker_screws=loose",),
        explanation="A loose joint heats the breaker from outside, so that it trips below its "
        "rating",
        remedy="With the panel dead and proved, cut back to sound metal, land it anew and tighten "
        "it to the label's torque; replace what was annealed",
        verify=("breaker.terminal_torque", "breaker.temperature", "outlet.loaded_voltage"),
        severity=Severity.DANGER,
        needs=PANEL_DEAD,
    ),
    cause(
        "worn_breaker",
        "Breaker worn, or bad on its bus",
        Station.BREAKER,
        7.0,
        says("trips", THERMAL, never=0.2, at_once=0.7, minutes=5.5, hours=2.2, random=1.4),
        says("trip_kind", HANDLE, overcurrent=1.6),
        says("breaker_warmth", LIKE_PARTS, like=0.2, warmer=14.0, hotter=8.0),
        says("breaker_screws", loose=0.56),
        says("breaker_marks", yes=6.0),
        says("setting", over=1.0),
        says("sharing", shared=0.6, trips=0.4),
        proof=("breaker_warmth=warmer", "breaker_warmth=hotter"),
        explanation="An element that has tripped often, or a poor place on the bus, lets it trip "
        "below its rating",
        remedy="With the panel dead and proved, look at the bus and replace the breaker by one "
        "that is listed for the panel",
        verify=("breaker.temperature", "panel.breaker_listed", "breaker.terminal_torque"),
        severity=Severity.WARNING,
        needs=PANEL_DEAD,
    ),
    cause(
        "hot_panel",
        "Breaker in hot surroundings",
        Station.PANEL,
        5.0,
        says("trips", THERMAL, never=0.25, at_once=0.3, minutes=2.0, hours=5.0, random=1.0),
        says("trip_kind", HANDLE, overcurrent=1.6),
        says("on_hot_days", yes=5.6),
        says("panel_air", mild=0.09, hot=11.4),
        says("breaker_screws", loose=0.7),
        proof=("panel_air=hot",),
        explanation="In hot air a breaker holds less than its rating",
        remedy="Shade or ventilate the panel, space the loaded breakers, or set the charger down",
        verify=("breaker.temperature",),
        severity=Severity.CAUTION,
    ),
    cause(
        "short_circuit",
        "Short circuit in run or outlet",
        Station.RUN,
        3.0,
        says("trips", never=0.07, at_once=14.0, minutes=0.3, hours=0.2, random=1.0),
        says("trip_kind", HANDLE, overcurrent=1.5),
        says("insulation", low=42.5, bad=40.0, outlet=45.0),
        says("run_damage", yes=12.0),
        says("starts", charges=0.3, dead=4.0),
        proof=("insulation=bad", "insulation=outlet"),
        explanation="Conductors that touch trip the breaker's magnet at once",
        remedy="Leave it off; with the circuit dead and proved, find the place section by section, "
        "and replace the run or part",
        verify=("run.insulation", "run.polarity", "run.damage"),
        severity=Severity.DANGER,
        needs=CIRCUIT_DEAD,
    ),
    cause(
        "undersized_conductor",
        "Conductor too small for its circuit",
        Station.RUN,
        3.0,
        says("conductor", bad=23.2),
        says("loss", metal=12.0, none=0.653),
        says("slow", yes=0.8),
        says("outlet_marks", yes=2.67),
        says("trips", never=1.1),
        proof=("conductor=bad",),
        explanation="It runs hot along its whole length, and its joints with it",
        remedy="Replace the run, or set charger and breaker down to what the conductor carries",
        verify=("run.conductor", "breaker.rating", "outlet.loaded_voltage"),
        severity=Severity.WARNING,
    ),
)
