"""Where a visit is made."""

from enum import StrEnum

from checks.record.model import Record, Text


class Occupancy(StrEnum):
    """What kind of place it is, as far as the code distinguishes it."""

    DWELLING = "dwelling"
    OTHER = "other than a dwelling"


class Site(Record):
    """Where."""

    name: Text
    address: Text = ""
    occupancy: Occupancy = Occupancy.DWELLING
    owner: Text = ""
    authority: Text = ""
    permit_number: Text = ""
