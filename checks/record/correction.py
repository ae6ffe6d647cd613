"""A fact of the visit that was corrected: what stood before, so that nothing said is lost."""

from typing import Annotated, Self

from pydantic import Field, model_validator

from checks.record.installation import ChargingPoint, Panel, SupplySystem
from checks.record.model import Code, Record, Timestamp
from checks.record.site import Site


class Correction(Record):
    """What stood before a fact of the site or the installation was corrected.

    What stands now is in the visit itself. Its number is drawn from the same row as the entries',
    so that the record says which entries were made under what stood before. Nothing is ever taken
    out by a correction: a panel or a charging point keeps its identity.

    Parameters
    ----------
    number : int
        Its place among the entries, the states and the other corrections.
    at : str
        When it was made.
    site, system, code : Site, SupplySystem, str
        As each stood before; none where it was not corrected.
    panels, points : tuple
        Those that were corrected, as they stood before.
    """

    number: Annotated[int, Field(ge=1, le=100_000)]
    at: Timestamp
    site: Site | None = None
    system: SupplySystem | None = None
    code: Code | None = None
    panels: Annotated[tuple[Panel, ...], Field(max_length=50)] = ()
    points: Annotated[tuple[ChargingPoint, ...], Field(max_length=200)] = ()

    @model_validator(mode="after")
    def _corrects_something(self) -> Self:
        if not any((self.site, self.system, self.code, self.panels, self.points)):
            raise ValueError("a correction says what stood before")
        return self
