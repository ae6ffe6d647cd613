"""CE Code 2021: section 86."""

from typing import Final

from checks.codes.cec_2021.source import borrowed, cec, recalled
from checks.codes.nec_2023.evse import CHARGING as NEC_CHARGING
from checks.codes.profile import (
    ChargingRules,
    GroundFaultRule,
    Rule,
    Threshold,
    VentilationRules,
)
from checks.source import Basis

# The threshold was read in an earlier edition: 60 A or more, where the NEC says more than 60 A.
DISCONNECT: Final = cec("86-304", Basis.DOUBTFUL)

GROUND_FAULT: Final = (
    Rule(
        GroundFaultRule(
            why="a 5-20 receptacle for charging outdoors, within 2.5 m of grade, has Class A "
            "protection",
            is_receptacle=True,
            places=frozenset({"outdoors"}),
            configurations=frozenset({"5-20"}),
        ),
        cec("86-306 2)"),
    ),
    Rule(
        GroundFaultRule(
            why="section 26, which was not read, asks for Class A protection of 125 V receptacles "
            "in some places",
            is_receptacle=True,
            configurations=frozenset({"5-15", "5-20"}),
            is_plain=False,
        ),
        recalled("26-700 and following"),
    ),
)

VENTILATION: Final = VentilationRules(
    tabled=borrowed(NEC_CHARGING.ventilation.tabled),
    va_per_rate=borrowed(NEC_CHARGING.ventilation.va_per_rate),
    is_interlocked=Rule(True, recalled("86-400 and following")),
)

CHARGING: Final = ChargingRules(
    # a circuit that supplies nothing else, whatever the rating
    individual_above_a=Rule(Threshold(0.0), cec("86-300 1)")),
    individual_above_v=Rule(Threshold(0.0), cec("86-300 1)")),
    disconnect_a=Rule(Threshold(60.0, is_included=True), DISCONNECT),
    disconnect_v_to_ground=Rule(Threshold(150.0), DISCONNECT),
    is_disconnect_in_sight=Rule(True, DISCONNECT),
    output_cable_m=borrowed(NEC_CHARGING.output_cable_m),
    supply_cord_m=borrowed(NEC_CHARGING.supply_cord_m),
    storage_height_m=borrowed(NEC_CHARGING.storage_height_m),
    ground_fault=GROUND_FAULT,
    ventilation=VENTILATION,
)
