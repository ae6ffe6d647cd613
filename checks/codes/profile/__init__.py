"""What a code profile offers: tables and rules as data, each with its source and its force.

Another code or edition is another set of these values, never another branch in a function.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from checks.codes.profile.charging import ChargingRules, GroundFaultRule, VentilationRules
from checks.codes.profile.conductors import ConductorTables, OvercurrentTables
from checks.codes.profile.load import LoadRules
from checks.codes.profile.place import InstallationRules, WorkspaceRules
from checks.codes.profile.receptacles import Configuration, Permission, ReceptacleTables
from checks.codes.profile.voltage import VoltageBand, VoltageRules
from checks.codes.profile.wiring import GroundBounds, Metal, WiringMethod
from checks.codes.rule import Band, Rule, Threshold

__all__ = [
    "Band",
    "ChargingRules",
    "CodeProfile",
    "ConductorTables",
    "Configuration",
    "GroundBounds",
    "GroundFaultRule",
    "InstallationRules",
    "LoadRules",
    "Metal",
    "OvercurrentTables",
    "Permission",
    "ReceptacleTables",
    "Rule",
    "Threshold",
    "VentilationRules",
    "VoltageBand",
    "VoltageRules",
    "WiringMethod",
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
    methods : Mapping
        Cables and raceways of this code by their designation; no other is offered under it.
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
    methods: Mapping[str, WiringMethod]
    not_covered: tuple[str, ...]
