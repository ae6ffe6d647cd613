"""An invented visit as the store sees it: plain JSON with an id and a revision."""

from typing import Any


def plain_visit(
    visit_id: str = "visit-1", revision: int = 0, *, readings: int = 3, **fields: Any
) -> dict[str, Any]:
    return {
        "schema_version": 1,
        "id": visit_id,
        "revision": revision,
        "is_invented": True,
        "site": {"name": "Beispielhof 7, Δ-Straße", "is_shared": False, "owner": None},
        "entries": [
            {"check": "outlet.voltage", "number": n, "volts": f"239.{n % 10}", "unit": "V"}
            for n in range(readings)
        ],
        **fields,
    }
