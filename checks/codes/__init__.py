"""Code books as data: profiles, and the rules as functions that take a profile.

Knows no physics and no record. A lookup outside a table refuses and never extrapolates.
"""

from collections.abc import Mapping
from typing import Final

from checks.codes import cec_2021, nec_2023
from checks.codes.profile import CodeProfile
from checks.errors import ChecksError

PROFILES: Final[Mapping[str, CodeProfile]] = {
    each.name: each for each in (nec_2023.PROFILE, cec_2021.PROFILE)
}


def profile(name: str) -> CodeProfile:
    """Return the code profile of this name.

    Parameters
    ----------
    name : str
        Identity, such as ``"nec_2023"``.

    Raises
    ------
    ChecksError
        There is no such profile.
    """
    if name not in PROFILES:
        raise ChecksError(
            f"there is no code profile {name!r}",
            where="Site, code",
            remedy="Use " + " or ".join(PROFILES),
        )
    return PROFILES[name]
