"""A record that a command was given, and what it means."""

from pathlib import Path
from typing import Any

from checks import codes
from checks.assess import Assessment, assess
from checks.intake import read_visit
from checks.record import Visit
from fieldapp.store.reading import read_json_file


def read(path: Path) -> tuple[Visit, Assessment]:
    """Return the visit in a file, and what it means."""
    return judged(read_json_file(path))


def judged(record: Any) -> tuple[Visit, Assessment]:
    """Return the visit in a JSON record, and what it means."""
    visit = read_visit(record)
    return visit, assess(visit, codes.profile(visit.code))
