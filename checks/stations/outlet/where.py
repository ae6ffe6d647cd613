"""What the outlet's checks share: is there a receptacle, of which kind, in which place."""

from collections.abc import Mapping
from typing import Final

from checks.check import Option, Situation
from checks.codes import PROFILES
from checks.codes.profile import Configuration
from checks.record import Attachment, ChargerForm


def is_receptacle(s: Situation) -> bool:
    """Return whether the charger goes by a receptacle."""
    return s.point.attachment is Attachment.RECEPTACLE


def is_wired(s: Situation) -> bool:
    """Return whether the run's conductors land in the charger itself."""
    return s.point.attachment is Attachment.HARD_WIRED


def receptacle_only(s: Situation) -> str:
    """Return why a check of a receptacle does not belong here; empty when it does."""
    return "" if is_receptacle(s) else "the charger is hard-wired, there is no receptacle"


def hard_wired_only(s: Situation) -> str:
    """Return why a check of a wired connection does not belong here; empty when it does."""
    return "the charger goes by a receptacle" if is_receptacle(s) else ""


def is_fastened(s: Situation) -> bool:
    """Return whether the equipment is fastened in place, or else portable."""
    return s.point.charger_form is ChargerForm.FIXED


def fixed_only(s: Situation) -> str:
    """Return why a check of fastened equipment does not belong here; empty when it does."""
    return "" if is_fastened(s) else "a portable cord set is not fastened in place"


def kind(s: Situation) -> Configuration | None:
    """Return the receptacle's configuration as the code of this visit lists it, if known."""
    name = s.choice("outlet.configuration.kind")
    return None if name is None else s.code.receptacles.configurations.value.get(name)


def is_single(s: Situation) -> bool | None:
    """Return whether one receptacle alone is on the circuit, if known."""
    count = s.choice("outlet.configuration.count")
    return None if count is None else count == "single"


def _label(found: Configuration) -> str:
    volts = "/".join(str(v) for v in found.volts)
    if not found.has_ground:  # the words must fit a phone
        return f"{found.name} · {found.rating_a} A, no ground"
    return f"{found.name} · {found.rating_a} A {volts} V"


def _all_kinds() -> Mapping[str, Configuration]:
    known: dict[str, Configuration] = {}
    for profile in PROFILES.values():
        known |= profile.receptacles.configurations.value
    return known


KINDS: Final = tuple(Option(name, _label(found)) for name, found in _all_kinds().items())
