"""What a check is: its declaration, what its judge may read, and what it returns."""

from checks.check.cautions import STATE_CAUTIONS
from checks.check.declaration import (
    STATE_ORDER,
    AnyInput,
    Applies,
    Caution,
    Check,
    Choice,
    CircuitState,
    Input,
    Judge,
    Measurement,
    Option,
    Rating,
    Series,
    When,
    Words,
    YesNo,
    always,
)
from checks.check.judging import (
    compare,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.check.situation import (
    Errors,
    Situation,
    latest_entries,
)

__all__ = [
    "STATE_CAUTIONS",
    "STATE_ORDER",
    "AnyInput",
    "Applies",
    "Caution",
    "Check",
    "Choice",
    "CircuitState",
    "Errors",
    "Input",
    "Judge",
    "Measurement",
    "Option",
    "Rating",
    "Series",
    "Situation",
    "When",
    "Words",
    "YesNo",
    "always",
    "compare",
    "latest_entries",
    "not_measured",
    "seen",
    "together",
    "unsettled",
]
