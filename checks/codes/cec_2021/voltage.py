"""CE Code 2021: 8-102, voltage drop; and the supply bands of CSA C235."""

from collections.abc import Mapping
from typing import Final

from checks.codes.cec_2021.source import cec
from checks.codes.profile import Rule, VoltageBand, VoltageRules
from checks.source import Basis, Source
from checks.verdict import Force


def _c235(what: str) -> Source:
    return Source(document="CSA C235", clause=what, basis=Basis.FROM_MEMORY)


def _band(low_v: float, high_v: float, what: str) -> Rule[VoltageBand]:
    return Rule(VoltageBand(low_v, high_v), _c235(what), Force.RECOMMENDATION)


# Nominal volts, place, range: normal operation is kept as A, extreme operation as B.
SUPPLY: Final[Mapping[tuple[int, str, str], Rule[VoltageBand]]] = {
    (120, "service", "A"): _band(110, 125, "service entrance, normal operation"),
    (240, "service", "A"): _band(220, 250, "service entrance, normal operation"),
    (208, "service", "A"): _band(190, 216, "service entrance, normal operation"),
    (120, "service", "B"): _band(106, 127, "service entrance, extreme operation"),
    (240, "service", "B"): _band(212, 254, "service entrance, extreme operation"),
    (208, "service", "B"): _band(184, 220, "service entrance, extreme operation"),
    (120, "utilization", "A"): _band(108, 125, "utilization point, normal operation"),
    (240, "utilization", "A"): _band(216, 250, "utilization point, normal operation"),
    (208, "utilization", "A"): _band(187, 216, "utilization point, normal operation"),
    (120, "utilization", "B"): _band(104, 127, "utilization point, extreme operation"),
    (240, "utilization", "B"): _band(208, 254, "utilization point, extreme operation"),
    (208, "utilization", "B"): _band(180, 220, "utilization point, extreme operation"),
}

VOLTAGE: Final = VoltageRules(
    branch_drop_pct=Rule(3.0, cec("8-102 1)")),
    total_drop_pct=Rule(5.0, cec("8-102 1)")),
    unknown_load_ratio=Rule(0.8, cec("8-102")),
    supply=SUPPLY,
)
