"""Reading a table: a row that exists, or a refusal that says which rows do; never a guess."""

from collections.abc import Iterable, Mapping
from typing import TypeVar

from checks.codes.profile import Band
from checks.errors import OutOfTableError
from checks.source import Source

K = TypeVar("K")
V = TypeVar("V")


def row(table: Mapping[K, V], key: K, *, what: str, source: Source) -> V:
    """Return the row of a table.

    Parameters
    ----------
    table : Mapping
        The table.
    key : object
        The row's heading.
    what : str
        What the heading is, for the message.
    source : Source
        Where the table stands, for the message.

    Raises
    ------
    OutOfTableError
        The table has no such row.
    """
    if key not in table:
        raise OutOfTableError(
            f"{source} has no row for {what} {key}",
            where=what.capitalize(),
            remedy="Use one of " + _listed(table),
        )
    return table[key]


def band(bands: Iterable[Band[V]], number: float, *, what: str, source: Source) -> V:
    """Return the value of the first band that reaches up to the number.

    Parameters
    ----------
    bands : iterable of Band
        The bands, ascending; each includes its upper end.
    number : float
        What is looked up.
    what : str
        What the number is, with its unit, for the message.
    source : Source
        Where the table stands, for the message.

    Raises
    ------
    OutOfTableError
        The number lies above the last band.
    """
    known = tuple(bands)
    for each in known:
        if number <= each.upto:
            return each.value
    raise OutOfTableError(
        f"{source} ends at {known[-1].upto:g}, and {what} is {number:g}",
        where=what.capitalize(),
        remedy="Check the entry; beyond the table an engineer decides",
    )


def _listed(table: Mapping[K, V]) -> str:
    return ", ".join(str(key) for key in table)
