"""What a code profile offers: tables and rules as data, each with its source and its force.

Another code or edition is another set of these values, never another branch in a function.
"""

from dataclasses import dataclass

from checks.codes.profile.charging import ChargingRules, GroundFaultRule, VentilationRules
from checks.codes.profile.conductors import ConductorTables, OvercurrentTables
from checks.codes.profile.load import LoadRules
from checks.codes.profile.place import InstallationRules, WorkspaceRules
from checks.codes.profile.receptacles import Configuration, Permission, ReceptacleTables
from checks.codes.profile.voltage import VoltageBand, VoltageRules
from checks.codes.rule import Band, Rule, Threshold

__all__ = [
    "Band",
    "ChargingRules",
    "CodeProfile",
    "ConductorTables",
    "Configuration",
    "GroundFaultRule",
    "InstallationRules",
    "LoadRules",
    "OvercurrentTables",
    "Permission",
    "ReceptacleTables",
    "Rule",
    "Threshold",
    "VentilationRules",
    "VoltageBand",
    "VoltageRules",
    "WorkspaceRules",
]


@dataclass(frozen=True)
class CodeProfile:
    """One edition of one code.

    Parameters
    ----------
    name : str
        Identity, such as ``"nec_2023"``.
    title, edition : str
        What a report calls it.
    covers : str
        Where it holds, how a drop counts, and how far the profile goes: one line to choose it by.
    not_covered : tuple of str
        What of the code this profile does not hold, in the trade's words.
    """

    name: str
    title: str
    edition: str
    covers: str
    conductors: ConductorTables
    overcurrent: OvercurrentTables
    receptacles: ReceptacleTables
    charging: ChargingRules
    voltage: VoltageRules
    workspace: WorkspaceRules
    load: LoadRules
    installation: InstallationRules
    not_covered: tuple[str, ...]
