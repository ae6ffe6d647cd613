"""What a test of insulation reads between conductor ends, and the caution beside it."""

from typing import Final

from checks.check import EVERY, Caution, Measurement, When, Where, everywhere
from checks.record import Category, InstrumentKind
from checks.units import Dimension
from checks.verdict import Severity

ENDS: Final = "conductor ends at the outlet, nothing connected there"
TESTER_CAUTION: Final = Caution(
    Severity.WARNING,
    "The tester puts up to 1000 V on both ends of the run. Nobody touches the far end; electronics "
    "still connected are destroyed; discharge before you touch it.",
)
OVER_RANGE: Final = "Over range: enter the highest value the tester shows"


def megohms(
    name: str,
    label: str,
    help_text: str = OVER_RANGE,
    when: When | None = None,
    where: Where = everywhere,
) -> Measurement:
    """Return what an insulation tester reads between conductor ends at the outlet."""
    return Measurement(
        name,
        label,
        when=when,
        where=where,
        help=help_text,
        dimension=Dimension.RESISTANCE,
        units=("MΩ", "GΩ"),
        plausible=(1e5, 1e12),
        instruments=(InstrumentKind.INSULATION,),
        category=Category.CAT_III,
        access_point=ENDS,
        against=EVERY,
    )


def lowest_ohms(
    name: str, help_text: str, when: When | None = None, where: Where = everywhere
) -> Measurement:
    """Return what a meter reads of the worst pair, where no test voltage may be applied."""
    return Measurement(
        name,
        "Lowest ohms of all pairs",
        when=when,
        where=where,
        help=help_text,
        dimension=Dimension.RESISTANCE,
        units=("kΩ", "MΩ", "Ω"),
        plausible=(100.0, 1e9),
        instruments=(InstrumentKind.MULTIMETER,),
        category=Category.CAT_III,
        access_point=ENDS,
        against=EVERY,
    )
