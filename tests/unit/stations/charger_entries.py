"""What the tests of the charger record: its plate, its setting, its place."""

from typing import Any

from tests.builders import judge, visit, with_entries

Entries = dict[str, dict[str, Any]]
PLATE: Entries = {
    "charger.nameplate": {
        "rated_a": "48 A",
        "volts": "208-240",
        "is_listed": True,
        "enclosure": "type_3r",
    }
}
OUTDOORS: Entries = {
    "surroundings.place": {"location": "outdoors", "wetness": "wet", "hazard": "none"}
}
GARAGE: Entries = {"surroundings.place": {"location": "garage", "wetness": "dry", "hazard": "none"}}


def found(check: str, entries: Entries, **over: Any) -> Any:
    """Judge one check of a visit with these entries."""
    return judge(with_entries(visit(**over), entries), check)


def breaker(rated: str) -> Entries:
    return {"breaker.rating": {"rated_a": rated, "poles": "2"}}


def set_to(amps: str, access: str = "password", **more: Any) -> Entries:
    return {"charger.configuration": {"configured_a": amps, "access": access, **more}}
