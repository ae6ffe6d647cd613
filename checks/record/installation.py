"""What is installed, as far as it decides the path; the rest is read off in entries."""

from enum import StrEnum
from typing import Literal, Self

from pydantic import model_validator

from checks.record.model import Code, Record, Text


class SupplySystem(StrEnum):
    """The supply at the service."""

    SPLIT_PHASE = "120/240 V single-phase"
    WYE_208 = "208Y/120 V three-phase"
    TWO_OF_WYE = "120/208 V single-phase"
    HIGH_LEG_DELTA = "240/120 V high-leg delta"

    @property
    def level_2_v(self) -> Literal[208, 240]:
        """Nominal volts between two ungrounded conductors [V]."""
        return 208 if self.is_wye else 240

    @property
    def is_wye(self) -> bool:
        """Whether its lines stand 120° apart: three of them, or the two that a unit gets."""
        return self in (SupplySystem.WYE_208, SupplySystem.TWO_OF_WYE)


class Attachment(StrEnum):
    """How the charger is connected at its outlet."""

    RECEPTACLE = "receptacle"
    HARD_WIRED = "hard-wired"


class ChargerForm(StrEnum):
    """Where the charger sits."""

    FIXED = "fixed unit"
    CORD_SET = "cord set"


class Coupler(StrEnum):
    """Vehicle couplers, by the standard that describes them."""

    TYPE_1 = "SAE J1772"
    J3400 = "SAE J3400"


class Panel(Record):
    """A panelboard that feeds one or more charging points."""

    id: Code
    name: Text
    is_service_equipment: bool = True


class ChargingPoint(Record):
    """One charging point and what its path is derived from.

    Parameters
    ----------
    id, name : str
        Identity in the record, and the name on site, such as "Bay 2".
    panel : str
        The panel that feeds it.
    level : 1 or 2
        Level 1 is 120 V; Level 2 is 208 V or 240 V.
    nominal_v : int
        Nominal volts at its outlet. [V]
    attachment : Attachment
        By receptacle or hard-wired.
    charger_form : ChargerForm
        A fixed unit, or a cord set whose charger hangs in the cord.
    connector : Coupler
        On the charger's cable.
    inlet : Coupler, optional
        On the vehicle at this visit; none when no vehicle is there.
    is_vehicle_asked : bool
        It was said whether a vehicle is there, and which. False where the point was taken over from
        an earlier visit or from another point: the vehicle was not.
    """

    id: Code
    name: Text
    panel: Code
    level: Literal[1, 2]
    nominal_v: Literal[120, 208, 240]
    attachment: Attachment
    charger_form: ChargerForm
    connector: Coupler
    inlet: Coupler | None = None
    is_vehicle_asked: bool = True

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        if (self.level == 1) != (self.nominal_v == 120):  # noqa: PLR2004 - the definition of Level 1
            raise ValueError(
                f"Level {self.level} does not go with {self.nominal_v} V: "
                "Level 1 is 120 V, Level 2 is 208 V or 240 V"
            )
        if self.level == 1 and self.attachment is Attachment.HARD_WIRED:
            raise ValueError("Level 1 goes by a receptacle")
        if self.charger_form is ChargerForm.CORD_SET and self.attachment is Attachment.HARD_WIRED:
            raise ValueError("a cord set goes by a receptacle, not hard-wired")
        if self.inlet is not None and not self.is_vehicle_asked:
            raise ValueError("a vehicle's inlet is recorded, and nobody was asked for it")
        return self

    @property
    def may_have_vehicle(self) -> bool:
        """Whether a vehicle is there, or nobody was asked yet."""
        return self.inlet is not None or not self.is_vehicle_asked

    @property
    def has_adapter(self) -> bool:
        """Whether connector and inlet differ, so that an adapter stands between them."""
        return self.inlet is not None and self.inlet is not self.connector
