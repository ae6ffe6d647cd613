"""What burns: joints, contacts, adapters, couplers."""

from typing import Final

from checks.causes.cause import Cause
from checks.causes.library.declare import CRACK, cause, says
from checks.check import Situation
from checks.path import Station, path
from checks.source import judgement
from checks.stations.observing import CIRCUIT_DEAD
from checks.stations.outlet.where import is_receptacle, is_wired
from checks.verdict import Severity

SCREW: Final = judgement("loose receptacle screws overheat (NCJ 243828, receptacle fires)")
METAL: Final = judgement("heat at one point of the metal is resistance at that point")
DROP: Final = judgement("volts lost beyond the run's own metal are lost in a joint (Ohm's law)")
COUPLER: Final = judgement("contacts that touch on part of their length overheat")


def has_adapter(s: Situation) -> bool:
    """Return whether an adapter is on the path."""
    return Station.ADAPTER in path(s.point)


CAUSES: Final[tuple[Cause, ...]] = (
    cause(
        "loose_at_outlet",
        "Loose terminal at the outlet",
        Station.OUTLET,
        24.0,
        says("burn_place", METAL, none=0.462, terminal=27.0, contact=0.45, cord=0.167, even=0.167),
        says("outlet_marks", yes=11.5),
        says("outlet_screws", SCREW, loose=18.2),
        says("loss", DROP, none=0.28, trace=2.67, joint=29.0),
        says("outlet_warmth", hot=8.0),
        says("stops", no=1.1, minutes=1.5),
        proof=("outlet_screws=loose",),
        explanation="A loose screw has resistance, and burns where the current passes it",
        remedy="With the circuit dead and proved, fit a new device on fresh wire ends and tighten "
        "it to its torque; a plug that was in a burnt contact is replaced with it",
        verify=("outlet.terminal_torque", "outlet.loaded_voltage", "outlet.temperature"),
        severity=Severity.DANGER,
        needs=CIRCUIT_DEAD,
    ),
    cause(
        "worn_contacts",
        "Worn contacts of the receptacle",
        Station.OUTLET,
        18.0,
        says("burn_place", METAL, none=0.481, terminal=0.45, contact=25.5, cord=0.167, even=0.167),
        says("outlet_marks", yes=11.0),
        says("grip", loose=12.6),
        says("grade", charging=0.3, industrial=0.5, residential=1.7),
        says("loss", DROP, none=0.31, trace=2.67, joint=28.0),
        says("outlet_warmth", hot=8.0),
        says("outlet_screws", loose=0.84),
        says("stops", no=1.1, minutes=1.5),
        proof=("grip=loose",),
        explanation="Contacts that lost their grip heat at the blades, more with each plugging",
        remedy="With the circuit dead and proved, replace receptacle and plug together by parts "
        "made for daily charging, or hard-wire the charger",
        verify=(
            "outlet.retention",
            "outlet.grade",
            "outlet.terminal_torque",
            "outlet.loaded_voltage",
            "outlet.temperature",
        ),
        severity=Severity.DANGER,
        needs=CIRCUIT_DEAD,
        where=is_receptacle,
    ),
    cause(
        "wire_in_terminal",
        "Wire wrong in its terminal",
        Station.OUTLET,
        7.0,
        says("burn_place", METAL, none=0.577, terminal=21.0, contact=0.6),
        says("outlet_marks", yes=6.67),
        says("termination", bad=23.2),
        says("loss", DROP, none=0.261, trace=2.67, joint=27.0),
        says("outlet_warmth", hot=6.0),
        says("outlet_screws", loose=2.1),
        proof=("termination=bad",),
        explanation="Insulation under the clamp, strands beside it, or aluminum in a terminal for "
        "copper leave little metal to carry the current",
        remedy="With the circuit dead and proved, cut back and land the wire as the device's "
        "instructions say, to its torque",
        verify=("outlet.termination", "outlet.terminal_torque", "outlet.loaded_voltage"),
        severity=Severity.DANGER,
        needs=CIRCUIT_DEAD,
    ),
    cause(
        "wrong_receptacle",
        "Receptacle that does not fit its circuit",
        Station.OUTLET,
        7.0,
        says("receptacle", bad=18.6),
        says("burn_place", METAL, none=0.625, even=28.3, contact=1.8, terminal=0.6),
        says("outlet_marks", yes=5.33),
        says("outlet_warmth", hot=5.0),
        proof=("receptacle=bad",),
        explanation="More current than its rating warms every contact alike",
        remedy="With the circuit dead and proved, fit the receptacle that the circuit asks for, or "
        "set the charger down and have the breaker match the receptacle",
        verify=("outlet.configuration", "outlet.terminal_torque", "outlet.temperature"),
        severity=Severity.DANGER,
        needs=CIRCUIT_DEAD,
        where=is_receptacle,
    ),
    cause(
        "extension",
        "Extension cord or plug adapter in the path",
        Station.OUTLET,
        6.0,
        says("extension", yes=13.5),
        says("burn_place", METAL, none=0.673, cord=16.7, contact=4.5),
        says("outlet_marks", yes=4.67),
        says("loss", metal=4.0, some=4.0),
        says("slow", yes=1.0),
        proof=("extension=yes",),
        explanation="Thin wire and one more pair of contacts carry the charge for hours",
        remedy="Take it out of use, and bring an outlet of the right kind to the vehicle",
        verify=("outlet.mounting", "outlet.temperature"),
        severity=Severity.WARNING,
        where=is_receptacle,
    ),
    cause(
        "plug_inside",
        "Bad joint inside plug or cord",
        Station.CHARGER,
        4.0,
        says("burn_place", METAL, none=0.404, terminal=0.15, contact=0.9, cord=48.3, even=0.167),
        says("outlet_marks", yes=5.33),
        says("grip", loose=0.714),
        says("outlet_screws", loose=0.56),
        says("outlet_warmth", hot=6.0),
        says("stops", no=0.8, touched=4.0, minutes=2.0),
        proof=("burn_place=cord",),
        explanation="A poor crimp inside the molded plug heats it from within",
        remedy="Keep it out of use; with the circuit dead and proved, replace the cord as a whole, "
        "with a receptacle that was burnt",
        verify=("outlet.burn_pattern", "outlet.temperature", "charger.supply_cord"),
        severity=Severity.DANGER,
        needs=CIRCUIT_DEAD,
        where=is_receptacle,
    ),
    cause(
        "strain",
        "Plug under strain",
        Station.OUTLET,
        4.0,
        says("strain", no=9.2),
        says("burn_place", METAL, none=0.673, contact=13.5, terminal=0.6),
        says("outlet_marks", yes=5.33),
        says("grip", loose=4.29),
        proof=("strain=no",),
        explanation="A hanging weight opens the contacts on one side",
        remedy="With the circuit dead and proved, replace receptacle and plug that are worn or "
        "burnt, and support the weight",
        verify=("outlet.mounting", "outlet.retention", "outlet.loaded_voltage"),
        severity=Severity.WARNING,
        needs=CIRCUIT_DEAD,
        where=is_receptacle,
    ),
    cause(
        "unplugged_under_load",
        "Unplugged while current flowed",
        Station.OUTLET,
        2.0,
        says("arc_beads", yes=17.0),
        says("burn_place", METAL, none=0.288, contact=30.0),
        says("outlet_marks", yes=6.67),
        says("proximity", wrong=15.0),
        proof=("arc_beads=yes",),
        explanation="An arc at the blades melts beads and pits the contact",
        remedy="With the circuit dead and proved, replace receptacle and plug together; show the "
        "owner how to end a charge, and mend the latch switch where it is wrong",
        verify=(
            "outlet.burn_pattern",
            "outlet.terminal_torque",
            "outlet.loaded_voltage",
            "handover.owner_shown",
        ),
        severity=Severity.WARNING,
        needs=CIRCUIT_DEAD,
        where=is_receptacle,
    ),
    cause(
        "corroded_outlet",
        "Corroded outlet",
        Station.OUTLET,
        5.0,
        says("water_seen", yes=16.8),
        says("burn_place", METAL, none=0.577, contact=9.0, terminal=7.5),
        says("outlet_marks", yes=5.33),
        says("loss", DROP, none=0.348, trace=2.67, joint=21.0),
        says("outlet_warmth", hot=6.0),
        says("grip", loose=3.57),
        says("after_rain", yes=1.5),
        says("ground_fault_opens", none=1.1),
        proof=("water_seen=yes",),
        explanation="Salt and water eat the contacts, and what is left heats",
        remedy="With the circuit dead and proved, replace it by a weather-resistant one under a "
        "cover that closes over the plug",
        verify=(
            "outlet.cover",
            "outlet.damage",
            "outlet.terminal_torque",
            "outlet.loaded_voltage",
        ),
        severity=Severity.DANGER,
        needs=CIRCUIT_DEAD,
    ),
    cause(
        "adapter_seat",
        "Adapter not seated",
        Station.ADAPTER,
        6.0,
        says("adapter_seat", COUPLER, good=0.12, bad=11.0),
        says("adapter_pins", COUPLER, clean=0.5, burnt=11.0),
        says("adapter_housing", CRACK, yes=8.0),
        says("adapter_warmth", COUPLER, hot=11.0),
        says("connector_warmth", COUPLER, hot=2.5),
        says("starts", charges=1.0, ready=1.5),
        says("stops", no=0.6, minutes=2.0, touched=7.0, random=1.5),
        says("outlet_marks", no=1.03),
        proof=("adapter_seat=bad",),
        explanation="An adapter that sits on part of its pins burns them",
        remedy="With no current, clean and seat it; one that does not sit home or is burnt is "
        "kept out of use, with what it was burnt against",
        verify=("adapter.seating", "adapter.pins", "adapter.temperature"),
        severity=Severity.DANGER,
        where=has_adapter,
    ),
    cause(
        "coupler_worn",
        "Worn or dirty contacts of the connector",
        Station.CONNECTOR,
        8.0,
        says("connector_pins", COUPLER, clean=0.2, burnt=8.0, worn=8.0, dirty=4.0),
        says("connector_housing", CRACK, yes=2.0),
        says("connector_seat", COUPLER, bad=3.0),
        says("connector_warmth", COUPLER, hot=10.0),
        says("adapter_seat", good=1.04),
        says("starts", charges=1.2),
        says("stops", no=0.65, minutes=2.5, hours=1.5, touched=4.0),
        says("outlet_marks", no=1.03),
        proof=("connector_pins=burnt", "connector_pins=worn"),
        explanation="Pitted or dirty pins have resistance, and heat the handle",
        remedy="Keep it out of use; replace the cable, on a charger that is wired in with the "
        "circuit dead and proved, and have the inlet that it burnt looked at",
        verify=("connector.pins", "connector.temperature", "vehicle.inlet_condition"),
        severity=Severity.DANGER,
        needs=CIRCUIT_DEAD,
        needs_where=is_wired,
    ),
)
