"""A photo as evidence: the picture by the hash of its bytes, and what is said about it."""

from enum import StrEnum
from typing import Annotated, Final

from pydantic import Field

from checks.quantity import DecimalText
from checks.record.model import PhotoName, Record, Timestamp

MARK_PARTS: Final = 10_000  # a mark is kept in this many parts of its picture's width
PHOTOS_MOST: Final = 50
MARKS_MOST: Final = 6  # on one photo: more hide what they point at

_Part = Annotated[int, Field(ge=0, le=100 * MARK_PARTS)]  # of the width; a picture may be tall


class MarkShape(StrEnum):
    """What is drawn to point at the evidence."""

    CIRCLE = "circle"
    ARROW = "arrow"


class Mark(Record):
    """Where on a picture the evidence is; the picture itself stays untouched.

    Parameters
    ----------
    shape : MarkShape
        A circle around the evidence, or an arrow whose head touches it.
    x, y : int
        The circle's center or the arrow's head, from the upright picture's left and top. [parts of
        the picture's width, of which there are `MARK_PARTS`]
    from_x, from_y : int
        A point on the circle's rim, or the arrow's tail. [the same parts]
    """

    shape: MarkShape
    x: _Part
    y: _Part
    from_x: _Part
    from_y: _Part


class Place(Record):
    """Where a photo was taken, by the camera's own word; kept only where it was asked for.

    Parameters
    ----------
    latitude_deg, longitude_deg : str
        Decimal degrees, north and east positive. [°]
    """

    latitude_deg: DecimalText
    longitude_deg: DecimalText


class Photo(Record):
    """One photo of what a check found.

    Parameters
    ----------
    name : str
        SHA-256 of the stored picture's bytes, and its kind.
    at : str
        When it was added.
    marks : tuple of Mark
        Each points at a piece of evidence.
    place : Place, optional
        Where it was taken.
    """

    name: PhotoName
    at: Timestamp
    marks: Annotated[tuple[Mark, ...], Field(max_length=MARKS_MOST)] = ()
    place: Place | None = None
