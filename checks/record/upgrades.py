"""Records of earlier schema versions, brought to this one: from JSON form to JSON form."""

from collections.abc import Callable, Mapping
from typing import Any, Final

from checks.record.visit import SCHEMA_VERSION, Unsigned

Document = Mapping[str, Any]


def upgraded(document: Document) -> Document:
    """Return a record in the form of this schema; what is no known version is left as it is.

    A signed record stays on disk as it was signed; only what is read of it is in the new form.
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


_NEXT: Final[Mapping[int, Callable[[Document], Document]]] = {1: _to_2}
assert [*_NEXT] == [*range(1, SCHEMA_VERSION)]
