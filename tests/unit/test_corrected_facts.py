"""What was looked at under a fact that was corrected since, by the fact."""

import pytest

from checks.assess import assess
from checks.codes import profile
from checks.record import Correction, Panel, SupplySystem, Visit
from checks.verdict import Verdict
from tests.builders import NOON, PANEL, point, visit, with_entries

CODE = profile("nec_2023")


def owed(made: Visit, check: str, subject: str) -> bool:
    row = assess(made, CODE).row(check, subject)
    assert not (row.is_owed_again and row.judgement.verdict is Verdict.WITHIN)
    return row.is_owed_again


@pytest.mark.parametrize(
    ("check", "is_owed"),
    [("panel.absence_of_voltage", True), ("panel.neutral_bond", True), ("panel.directory", False)],
)
def test_what_the_panel_is_decides_what_stays_live_in_it(check: str, is_owed: bool):
    """Common practice, no source: the line side of a service stays live, a feeder's goes dead."""
    made = with_entries(visit(), {check: {}})
    was = Panel(id=PANEL, name="Panel", is_service_equipment=False)
    later = made.model_copy(
        update={"corrections": (Correction(number=90, at=NOON, panels=(was,)),)}
    )
    assert owed(later, check, PANEL) is is_owed


@pytest.mark.parametrize(
    ("check", "is_owed"), [("panel.absence_of_voltage", True), ("panel.directory", False)]
)
def test_every_line_is_tested_once_the_supply_is_known_to_have_another(check: str, is_owed: bool):
    """OSHA 29 CFR 1910.333(b)(2)(iv)(B): each circuit element is tested; a third line is one."""
    made = with_entries(
        visit(system=SupplySystem.WYE_208, points=(point(nominal_v=208),)), {check: {}}
    )
    was = Correction(number=90, at=NOON, system=SupplySystem.SPLIT_PHASE, points=(point(),))
    assert owed(made.model_copy(update={"corrections": (was,)}), check, PANEL) is is_owed


def test_the_demand_of_a_panel_is_asked_anew_where_a_charger_joins_it():
    """Whether the demand holds the chargers was said of those that it fed then."""
    two = (Panel(id=PANEL, name="Panel", is_service_equipment=False), Panel(id="p2", name="Other"))
    load = {"panel.load": {"method": "year", "demand_a": "40 A", "is_included": True}}
    made = with_entries(visit(panels=two), load)
    was = Correction(number=90, at=NOON, points=(point(panel="p2"),))
    assert owed(made.model_copy(update={"corrections": (was,)}), "panel.load", PANEL)
