"""The owner's monthly test of a ground-fault device, in words for who is no electrician."""

from collections.abc import Mapping
from typing import Final

from checks.source import Basis, Source
from checks.verdict import Severity

SOURCE: Final = Source(
    document="UL 943",
    clause="instructions of a ground-fault device: test it each month",
    basis=Basis.FROM_MEMORY,
)
WHERE: Final[Mapping[str, str]] = {
    "breaker": "the breaker with a test button, {panel}",
    "receptacle": "the receptacle with a test button, at the charger",
    "other": "the device with a test button, ahead of the charger",
}
CAUTIONS: Final = (
    (
        Severity.DANGER,
        "On smoke, a burnt smell, heat, damage or water touch nothing here. Have it switched off "
        "from a safe place, and call an electrician.",
    ),
    (
        Severity.WARNING,
        "Dry hands, dry floor, no vehicle plugged in. Use the device's own button, and nothing "
        "else. Open no cover.",
    ),
    (
        Severity.WARNING,
        "If it has tripped by itself, do not switch it on again to see: a fault may be there. "
        "Leave it off, and call an electrician.",
    ),
)
FAILS: Final = (
    "It does not trip, the charger stays on, or it cannot be reset: switch the breaker off, leave "
    "it off, do not charge, and call an electrician."
)
_END: Final = (
    "End the charge at the vehicle, and unplug the vehicle.",
    "See that the charger's light or display is on.",
)
_AFTER: Final = (
    "See that the charger comes back as before.",
    "Write down the day, whether it tripped, and who tested.",
)
_DARK: Final = "See that the charger has gone dark. If not, it fails."
STEPS: Final[Mapping[str, tuple[str, ...]]] = {
    "breaker": (
        *_END,
        "Press TEST on the breaker. Its handle must jump away from ON.",
        _DARK,
        "After your own test only: push the handle fully to OFF, then to ON.",
        *_AFTER,
    ),
    "receptacle": (
        *_END,
        "Press TEST on the receptacle. RESET must spring out.",
        _DARK,
        "After your own test only: press RESET until it stays in.",
        *_AFTER,
    ),
    "other": (
        *_END,
        "Press TEST on the device. It must switch off at once.",
        _DARK,
        "After your own test only: set it back as its label says.",
        *_AFTER,
    ),
}
