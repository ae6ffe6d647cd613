"""NEC 2023: article 625 and the ground-fault rules around it.

Lengths and heights are printed in two systems, and meeting either one complies (90.9(D)): the
milder of the two printed numbers is kept here.
"""

from typing import Final

from checks.codes.nec_2023.source import nec
from checks.codes.profile import (
    ChargingRules,
    GroundFaultRule,
    Rule,
    Threshold,
    VentilationRules,
)
from checks.source import Basis

M_PER_FT: Final = 0.3048

DWELLING_PLACES: Final = frozenset(
    {
        "garage",
        "accessory building",
        "outdoors",
        "basement",
        "laundry area",
        "damp or wet indoors",
    }
)
OTHER_PLACES: Final = frozenset(
    {"garage", "service bay", "outdoors", "rooftop", "damp or wet indoors"}
)
DWELLING_OUTDOOR_PLACES: Final = frozenset({"outdoors", "garage", "accessory building"})

GROUND_FAULT: Final = (
    Rule(
        GroundFaultRule(
            why="every receptacle installed for EV charging has ground-fault protection for "
            "personnel",
            is_receptacle=True,
        ),
        nec("625.54"),
    ),
    Rule(
        GroundFaultRule(
            why="a receptacle in this place of a dwelling has it too",
            is_receptacle=True,
            is_dwelling=True,
            places=DWELLING_PLACES,
            upto_v_to_ground=150.0,
        ),
        nec("210.8(A)"),
    ),
    Rule(
        GroundFaultRule(
            why="a receptacle in this place has it too",
            is_receptacle=True,
            is_dwelling=False,
            places=OTHER_PLACES,
            upto_v_to_ground=150.0,
            upto_a=50.0,
        ),
        nec("210.8(B)"),
    ),
    Rule(
        GroundFaultRule(
            why="outdoor outlets of a dwelling up to 50 A have ground-fault protection; whether a "
            "hard-wired charger is such an outlet is disputed, and its instructions may forbid "
            "a second device upstream",
            is_receptacle=False,
            is_dwelling=True,
            places=DWELLING_OUTDOOR_PLACES,
            upto_v_to_ground=150.0,
            upto_a=50.0,
            is_plain=False,
        ),
        nec("210.8(F)", Basis.DOUBTFUL),
    ),
)

M3_PER_FT3: Final = 0.3048**3

# Least rate for one vehicle at 240 V, as printed in cubic feet a minute; amps, rate.
VENTILATION_CFM: Final = {15: 74, 20: 99, 30: 148, 40: 197, 50: 246, 60: 296, 100: 493}
VENTILATION: Final = VentilationRules(
    tabled=Rule(
        {(240, amps): rate * M3_PER_FT3 for amps, rate in VENTILATION_CFM.items()},
        nec("table 625.52(B)"),
    ),
    # VA / 48.7 in cubic feet a minute gives every printed rate
    va_per_rate=Rule(48.7 / M3_PER_FT3, nec("625.52(B)(2)")),
    is_interlocked=Rule(True, nec("625.52(A), (B)")),
)

CHARGING: Final = ChargingRules(
    individual_above_a=Rule(Threshold(16.0), nec("625.40")),
    individual_above_v=Rule(Threshold(120.0), nec("625.40")),
    disconnect_a=Rule(Threshold(60.0), nec("625.43")),
    disconnect_v_to_ground=Rule(Threshold(150.0), nec("625.43")),
    is_disconnect_in_sight=Rule(False, nec("625.43")),
    output_cable_m=Rule(25 * M_PER_FT, nec("625.17(C)")),
    supply_cord_m=Rule(
        {"portable": 1 * M_PER_FT, "fastened": 6 * M_PER_FT, "protected plug": 4.6},
        nec("625.17(A)"),
    ),
    storage_height_m=Rule({"indoors": 0.450, "outdoors": 0.600}, nec("625.50")),
    ground_fault=GROUND_FAULT,
    ventilation=VENTILATION,
)
