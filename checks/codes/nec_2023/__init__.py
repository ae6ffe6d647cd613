"""NEC (NFPA 70), edition 2023: one module a family of tables, values and sources only.

The adopted edition and its local amendments decide, and the authority having jurisdiction has the
last word.
"""

from typing import Final

from checks.codes.nec_2023.conductors import CONDUCTORS
from checks.codes.nec_2023.evse import CHARGING
from checks.codes.nec_2023.installation import INSTALLATION
from checks.codes.nec_2023.load import LOAD
from checks.codes.nec_2023.overcurrent import OVERCURRENT
from checks.codes.nec_2023.receptacles import RECEPTACLES
from checks.codes.nec_2023.voltage import VOLTAGE
from checks.codes.nec_2023.wiring import METHODS
from checks.codes.nec_2023.workspace import WORKSPACE
from checks.codes.profile import CodeProfile

NOT_COVERED: Final = (
    "state and local amendments, the adopted edition where it is another one",
    "ampacity of conductors above 4/0 AWG, in free air, and of flexible cords (table 400.5)",
    "overcurrent devices above 400 A",
    "the share for the largest motor, several ranges, and thermal storage in a load calculation",
    "load of other occupancies than dwellings, except as a sum of continuous and other load",
    "alternating-current impedance in aluminum conduit",
    "sources in parallel beyond the sum on a bus; charging equipment that exports power",
    "rules for hazardous places, accessibility, structures and fire",
)

PROFILE: Final = CodeProfile(
    name="nec_2023",
    title="NEC (NFPA 70)",
    edition="2023",
    covers="United States. A drop over 3 % is a recommendation missed. Dwelling loads, conductors "
    "to 4/0 AWG, breakers to 400 A.",
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
