"""NEC 2023 informational notes on voltage drop, and the supply bands of ANSI C84.1."""

from collections.abc import Mapping
from typing import Final

from checks.codes.nec_2023.source import nec
from checks.codes.profile import Rule, VoltageBand, VoltageRules
from checks.source import Basis, Source, judgement
from checks.verdict import Force


def _c84(place: str, band: str, basis: Basis) -> Source:
    return Source(document="ANSI C84.1", clause=f"range {band}, {place} voltage", basis=basis)


# Older editions print lower utilization minima for circuits without lighting.
SERVICE_A: Final = _c84("service", "A", Basis.LOOKED_UP)
SERVICE_B: Final = _c84("service", "B", Basis.FROM_MEMORY)
UTILIZATION_A: Final = _c84("utilization", "A", Basis.DOUBTFUL)
UTILIZATION_B: Final = _c84("utilization", "B", Basis.DOUBTFUL)


def _band(low_v: float, high_v: float, source: Source) -> Rule[VoltageBand]:
    return Rule(VoltageBand(low_v, high_v), source, Force.RECOMMENDATION)


# Nominal volts between the measured conductors, place, range.
SUPPLY: Final[Mapping[tuple[int, str, str], Rule[VoltageBand]]] = {
    (120, "service", "A"): _band(114, 126, SERVICE_A),
    (240, "service", "A"): _band(228, 252, SERVICE_A),
    (208, "service", "A"): _band(197, 218, SERVICE_A),
    (120, "utilization", "A"): _band(110, 126, UTILIZATION_A),
    (240, "utilization", "A"): _band(220, 252, UTILIZATION_A),
    (208, "utilization", "A"): _band(191, 218, UTILIZATION_A),
    (120, "service", "B"): _band(110, 127, SERVICE_B),
    (240, "service", "B"): _band(220, 254, SERVICE_B),
    (208, "service", "B"): _band(191, 220, SERVICE_B),
    (120, "utilization", "B"): _band(106, 127, UTILIZATION_B),
    (240, "utilization", "B"): _band(212, 254, UTILIZATION_B),
    (208, "utilization", "B"): _band(184, 220, UTILIZATION_B),
}

VOLTAGE: Final = VoltageRules(
    branch_drop_pct=Rule(3.0, nec("210.19 informational note"), Force.RECOMMENDATION),
    total_drop_pct=Rule(
        5.0, nec("210.19 and 215.2(A)(2) informational notes"), Force.RECOMMENDATION
    ),
    unknown_load_ratio=Rule(
        0.8,
        judgement("without a known load, drop at the largest continuous load of the device"),
        Force.RECOMMENDATION,
    ),
    supply=SUPPLY,
)
