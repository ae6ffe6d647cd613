"""CE Code (CSA C22.1), edition 2021: one module a family of tables, values and sources only.

Provinces amend it; the adopted edition decides, and the authority having jurisdiction has the last
word. Much of it is recalled and says so: such a value may raise a finding and proves nothing.
"""

from typing import Final

from checks.codes.cec_2021.conductors import CONDUCTORS
from checks.codes.cec_2021.evse import CHARGING
from checks.codes.cec_2021.installation import INSTALLATION, WORKSPACE
from checks.codes.cec_2021.load import LOAD
from checks.codes.cec_2021.overcurrent import OVERCURRENT
from checks.codes.cec_2021.receptacles import RECEPTACLES
from checks.codes.cec_2021.voltage import VOLTAGE
from checks.codes.cec_2021.wiring import METHODS
from checks.codes.profile import CodeProfile

NOT_COVERED: Final = (
    "provincial amendments, and what a later edition changes",
    "how equipment is installed and kept, working space and covers: the other code's figures stand "
    "in as good practice",
    "ground-fault protection that section 26 asks for",
    "drop by length for general-use branch circuits of dwellings (8-102 3), table 68)",
    "single conductors in free air (85 % and 70 % instead of 100 % and 80 %)",
    "conductors of a dwelling's service by their own table",
    "ampacity of conductors above 4/0 AWG, columns above 90 °C, overcurrent devices above 400 A",
    "buildings of several dwellings and other occupancies (8-202 to 8-210)",
    "whether bonding conductors grow with enlarged conductors (10-616), which is taken as yes",
    "sources in parallel and charging equipment that exports power (sections 64 and 84)",
    "rules for hazardous places, accessibility, structures and fire",
)

PROFILE: Final = CodeProfile(
    name="cec_2021",
    title="CE Code (CSA C22.1)",
    edition="2021",
    covers="Canada. A drop over 3 % breaks a rule. Conductors to 4/0 AWG, breakers to 400 A; much "
    "is from memory, and such a limit proves nothing good.",
    conductors=CONDUCTORS,
    overcurrent=OVERCURRENT,
    receptacles=RECEPTACLES,
    charging=CHARGING,
    voltage=VOLTAGE,
    workspace=WORKSPACE,
    load=LOAD,
    installation=INSTALLATION,
    methods=METHODS,
    not_covered=NOT_COVERED,
)
