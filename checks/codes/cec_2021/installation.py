"""CE Code 2021: how equipment is installed and kept.

Of these rules only the depth of the working space was read in this edition. What is seen stands
here as good practice, so that a site under this code is looked at as closely; figures of the other
code stand in and prove nothing.
"""

from typing import Final

from checks.codes.cec_2021.source import borrowed, cec, good_practice
from checks.codes.nec_2023.installation import INSTALLATION as NEC_INSTALLATION
from checks.codes.nec_2023.workspace import WORKSPACE as NEC_WORKSPACE
from checks.codes.profile import Band, InstallationRules, Rule, WorkspaceRules

INSTALLATION: Final = InstallationRules(
    seen={subject: good_practice(rule) for subject, rule in NEC_INSTALLATION.seen.items()},
    source_output_ratio=borrowed(NEC_INSTALLATION.source_output_ratio),
    bus_ratio={place: borrowed(rule) for place, rule in NEC_INSTALLATION.bus_ratio.items()},
    cover_m={above: borrowed(rule) for above, rule in NEC_INSTALLATION.cover_m.items()},
)

WORKSPACE: Final = WorkspaceRules(
    depth_m=Rule((Band(750, (1.0, 1.0, 1.0)),), cec("2-308 1)")),
    width_m=borrowed(NEC_WORKSPACE.width_m),
    height_m=borrowed(NEC_WORKSPACE.height_m),
)
