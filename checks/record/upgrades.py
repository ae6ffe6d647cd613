"""Records of earlier schema versions, brought to this one: from JSON form to JSON form."""

from collections.abc import Callable, Mapping
from typing import Any, Final

from checks.errors import RecordError
from checks.record.visit import SCHEMA_VERSION, Unsigned

Document = Mapping[str, Any]


def upgraded(document: Document) -> Document:
    """Return a record in the form of this schema; what is no known version is left as it is.

    A signed record stays on disk as it was signed; only what is read of it is in the new form.

    Raises
    ------
    RecordError
        It holds a field that its schema version does not have.
    """
    version = document.get("schema_version", 1)
    while type(version) is int and version in _NEXT:
        document = {**_NEXT[version](document), "schema_version": version + 1}
        version += 1
    return document


def _to_2(document: Document) -> Document:
    """Turn the name of a witness, who was asked for no signature, into a witness."""
    signoff = document.get("signoff")
    if not isinstance(signoff, Mapping) or not isinstance(signoff.get("witness", ""), str):
        return document
    name = signoff.get("witness", "")
    witness = {"name": name, "unsigned": Unsigned.NOT_ASKED.value} if name else None
    return {**document, "signoff": {**signoff, "witness": witness}}


def _to_3(document: Document) -> Document:
    """Turn the one mark of a photo into the first of several."""
    entries = document.get("entries")
    if not isinstance(entries, list):
        return document
    return {**document, "entries": [_entry_to_3(e) for e in entries]}


def _entry_to_3(entry: Any) -> Any:
    if not (isinstance(entry, Mapping) and isinstance(entry.get("photos"), list)):
        return entry
    return {**entry, "photos": [_photo_to_3(p) for p in entry["photos"]]}


def _photo_to_3(photo: Any) -> Any:
    if not (isinstance(photo, Mapping) and "mark" in photo):
        return photo
    others = {name: value for name, value in photo.items() if name != "mark"}
    return {**others, "marks": [] if photo["mark"] is None else [photo["mark"]]}


def _to_4(document: Document) -> Document:
    """Take it as it is: nothing was corrected in it, and its vehicles were asked for."""
    points = document.get("points")
    held = [p for p in points if isinstance(p, Mapping)] if isinstance(points, list) else []
    for name, there in (("corrections", [document]), ("is_vehicle_asked", held)):
        if any(name in each for each in there):
            raise RecordError(
                "is not of the schema version that the record says",
                where=name,
                remedy="Take the field out, or give the schema version that it was written in",
            )
    return document


_NEXT: Final[Mapping[int, Callable[[Document], Document]]] = {1: _to_2, 2: _to_3, 3: _to_4}
assert [*_NEXT] == [*range(1, SCHEMA_VERSION)]
