"""CE Code 2021: 14-600, 86-306, and the configurations of CSA C22.2 No. 42."""

from collections.abc import Mapping
from typing import Final

from checks.codes.cec_2021.source import borrowed, cec, recalled
from checks.codes.nec_2023.receptacles import CONFIGURATIONS, WD_6
from checks.codes.nec_2023.receptacles import RECEPTACLES as NEC_RECEPTACLES
from checks.codes.profile import Permission, ReceptacleTables, Rule

RULE_86_306: Final = cec("86-306 1)")

# At 125 V one configuration only; above, the one of diagram 1 or 2 that belongs to the circuit.
DIAGRAM_1: Final = ("6-15", "6-20", "6-30", "6-50", "14-30", "14-50", "14-60")
DIAGRAM_2: Final = ("L6-30", "L14-30")

PERMITTED: Final[Mapping[str, Rule[Permission]]] = {
    "5-20": Rule(
        Permission(
            True,
            "at 125 V a single 5-20 receptacle, labelled for charging, on a circuit of at least "
            "20 A",
            least_circuit_a=20.0,
            is_single_only=True,
        ),
        RULE_86_306,
    ),
    **{
        name: Rule(
            Permission(True, f"{name} is a configuration of diagram 1 for its circuit"),
            RULE_86_306,
        )
        for name in DIAGRAM_1
    },
    **{
        name: Rule(
            Permission(
                False, f"the rule admits the locking types of diagram 2, to which {name} belongs"
            ),
            recalled("86-306 1), diagram 2"),
        )
        for name in DIAGRAM_2
    },
}

# A receptacle is never rated below its circuit, however many there are. [A]
RATINGS_A: Final = (15, 20, 30, 50, 60)
SHARED_A: Final[Mapping[float, tuple[int, ...]]] = {
    circuit_a: tuple(rating for rating in RATINGS_A if rating >= circuit_a)
    for circuit_a in (15, 20, 25, 30, 35, 40, 45, 50, 60)
}

RECEPTACLES: Final = ReceptacleTables(
    configurations=Rule(CONFIGURATIONS, WD_6),
    portable=PERMITTED,
    fastened=PERMITTED,
    is_single_below_allowed=Rule(False, cec("14-600")),
    shared_a=Rule(SHARED_A, cec("14-600")),
    continuous_ratio=Rule(0.8, cec("8-104 5), 6)")),
    cover={place: borrowed(rule) for place, rule in NEC_RECEPTACLES.cover.items()},
    weather_resistant_upto_a=borrowed(NEC_RECEPTACLES.weather_resistant_upto_a),
)
