"""One entry at a panel, and a panel that other equipment feeds."""

from typing import Any

from checks.record import Panel, Visit
from tests.builders import PANEL, judge, visit, with_entries


def one(check: str, made: Visit | None = None, **answers: Any) -> Any:
    """The judgement of one entry in a plain visit."""
    return judge(with_entries(made or visit(), {check: answers}), check)


def feeder_fed(**over: Any) -> Visit:
    """A visit whose panel is not the service equipment."""
    return visit(panels=(Panel(id=PANEL, name="Panel A", is_service_equipment=False),), **over)
