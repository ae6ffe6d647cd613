"""CE Code 2021: how equipment is installed and kept.

Of these rules only the depth of the working space was read in this edition; the cover of buried
wiring is recalled. What is seen stands here as good practice, so that a site under this code is
looked at as closely; other figures are the other code's and prove nothing.
"""

from collections.abc import Mapping
from typing import Final

from checks.codes.cec_2021.source import borrowed, cec, good_practice, recalled
from checks.codes.nec_2023.installation import INSTALLATION as NEC_INSTALLATION
from checks.codes.nec_2023.workspace import WORKSPACE as NEC_WORKSPACE
from checks.codes.profile import Band, InstallationRules, Rule, WorkspaceRules

# Least cover where no vehicle goes, and where some do; raceways are as armored cable. [m]
COVER_M: Final[Mapping[str, Rule[Mapping[str, float]]]] = {
    above: Rule(
        {"cable": cable, "armored cable": other, "metal conduit": other, "tubing": other},
        recalled("table 53"),
    )
    for above, cable, other in (
        ("general", 0.6, 0.45),
        ("driveway", 0.9, 0.6),
        ("street", 0.9, 0.6),
    )
}

INSTALLATION: Final = InstallationRules(
    seen={subject: good_practice(rule) for subject, rule in NEC_INSTALLATION.seen.items()},
    source_output_ratio=borrowed(NEC_INSTALLATION.source_output_ratio),
    bus_ratio={place: borrowed(rule) for place, rule in NEC_INSTALLATION.bus_ratio.items()},
    cover_m=COVER_M,
)

WORKSPACE: Final = WorkspaceRules(
    depth_m=Rule((Band(750, (1.0, 1.0, 1.0)),), cec("2-308 1)")),
    width_m=borrowed(NEC_WORKSPACE.width_m),
    height_m=borrowed(NEC_WORKSPACE.height_m),
)
