"""NEC 2023: 110.26(A), working space."""

from typing import Final

from checks.codes.nec_2023.source import nec
from checks.codes.profile import Band, Rule, WorkspaceRules

# Upper end of the voltage to ground [V]; depth for conditions 1, 2 and 3. [m]
DEPTH_M: Final = (
    Band(150, (0.9, 0.9, 0.9)),
    Band(600, (0.9, 1.0, 1.2)),
)

WORKSPACE: Final = WorkspaceRules(
    depth_m=Rule(DEPTH_M, nec("table 110.26(A)(1)")),
    width_m=Rule(0.762, nec("110.26(A)(2)")),
    # printed as 2.0 m (6 1/2 ft); meeting either number complies (90.9(D))
    height_m=Rule(6.5 * 0.3048, nec("110.26(A)(3)")),
)
