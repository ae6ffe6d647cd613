"""The desk and its forms: a visit begins from answers, and a half-answered form survives a kill."""

from collections.abc import Iterator
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
import rfc8785

from checks.record import (
    Attachment,
    ChargerForm,
    Coupler,
    NotDoneReason,
    Occupancy,
    Person,
    Role,
    SupplySystem,
    VisitKind,
)
from checks.verdict import Verdict
from fieldapp.store.visits import Store
from fieldapp.walk import forms
from fieldapp.walk.desk import Desk, NotReadyError, require_technician
from fieldapp.walk.ledger import Ledger
from fieldapp.walk.visit import Walk

NOW = datetime(2025, 6, 2, 12, 0, tzinfo=UTC)
BEGIN = {
    "kind": "service call",
    "role": "serves",
    "site": " Invented site ",
    "occupancy": "other than a dwelling",
    "system": "208Y/120 V three-phase",
    "panel": "EV panel",
    "code": "cec_2021",
    "is_service": "no",
}
POINT = {
    "name": "Bay 2",
    "connection": "level 2 hard-wired",
    "connector": "SAE J3400",
    "inlet": "SAE J1772",
}


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path) as opened:
        yield opened


def desk(store: Store) -> Desk:
    return Desk(Ledger(store, lambda: NOW))


def fill(store: Store, form: forms.Check, said: dict[str, str]) -> None:
    """Answer a form question by question, each time at a fresh desk, as after a kill."""
    while (questions := desk(store).form(form)).current is not None:
        at = desk(store)
        name = questions.current.name
        if name in said:
            at.answer_form(at.form(form), said[name])
        else:
            at.keep_form(at.form(form).passed_over())


def begun(store: Store, begin: dict[str, str] = BEGIN, point: dict[str, str] = POINT) -> Walk:
    fill(store, forms.BEGIN, begin)
    fill(store, forms.POINT, point)
    return desk(store).begin_visit()


def test_a_visit_is_what_its_forms_say(store: Store):
    desk(store).set(technician=Person(name="Invented Person"))
    made = begun(store).visit
    assert (made.kind, made.role) == (VisitKind.SERVICE_CALL, Role.SERVES)
    assert (made.site.name, made.site.occupancy) == ("Invented site", Occupancy.OTHER)
    assert (made.system, made.technician.name) == (SupplySystem.WYE_208, "Invented Person")
    assert (made.panels[0].name, made.panels[0].is_service_equipment) == ("EV panel", False)
    point = made.points[0]
    assert (point.level, point.nominal_v) == (2, 208)
    assert (point.attachment, point.charger_form) == (Attachment.HARD_WIRED, ChargerForm.FIXED)
    assert point.has_adapter
    assert made.instruments
    assert made.code == "cec_2021"
    assert not made.is_invented


@pytest.mark.parametrize("connection", forms.CONNECTIONS)
@pytest.mark.parametrize("system", SupplySystem)
def test_every_connection_on_every_supply_is_a_sound_point(
    store: Store, connection: str, system: SupplySystem
):
    walk = begun(store, {**BEGIN, "system": system}, {**POINT, "connection": connection})
    point = walk.visit.points[0]
    assert point.nominal_v == (120 if "level 1" in connection else system.level_2_v)
    assert walk.steps


def test_without_a_vehicle_there_is_no_inlet_and_no_adapter(store: Store):
    point = begun(store, point={**POINT, "inlet": forms.NO_VEHICLE}).visit.points[0]
    assert (point.inlet, point.has_adapter, point.connector) == (None, False, Coupler.J3400)


def test_a_half_answered_form_and_half_typed_words_are_there_after_a_kill(store: Store):
    at = desk(store)
    at.answer_form(at.form(forms.BEGIN), "service call")
    at.keep_form(at.form(forms.BEGIN).typing("site", "Inven"))
    again = desk(store).form(forms.BEGIN)
    assert forms.said(again.entry, "kind") == "service call"
    assert again.typed == {"site": "Inven"}


def test_a_visit_is_not_begun_from_half_a_form(store: Store):
    fill(store, forms.BEGIN, BEGIN)
    with pytest.raises(NotReadyError, match="'Name of the charging point' has no answer"):
        desk(store).begin_visit()
    assert forms.said(desk(store).form(forms.BEGIN).entry, "panel") == "EV panel"
    assert desk(store).ledger.visits().summaries == {}


def test_the_forms_are_empty_for_the_next_visit(store: Store):
    begun(store)
    assert desk(store).form(forms.BEGIN).entry.answers == ()
    assert desk(store).form(forms.POINT).entry.answers == ()


def test_the_list_shows_each_visit_in_a_few_words(store: Store):
    walk = begun(store)
    row = desk(store).ledger.visits().summaries[walk.visit.id]
    assert row["site"] == "Invented site"
    assert (row["verdict"], row["is_signed"]) == (Verdict.NOT_MEASURED, False)
    assert row["unfinished"] == len(walk.assessment.unfinished)


def test_the_list_shows_a_signed_visit_as_it_was_signed(store: Store):
    walk = begun(store)
    before = desk(store).ledger.visits().summaries[walk.visit.id]
    signed = walk.assessment.model_dump(mode="json")
    store.seal(walk.visit.id, {"assessment": signed})
    assert desk(store).ledger.visits().summaries[walk.visit.id] == {**before, "is_signed": True}


def test_the_list_judges_no_signed_visit_anew(store: Store, monkeypatch: pytest.MonkeyPatch):
    walk = begun(store)
    signed = walk.assessment.model_dump(mode="json") | {"verdict": "borderline", "software": "0"}
    store.seal(walk.visit.id, {"assessment": signed})
    monkeypatch.delattr("fieldapp.walk.summaries.assess")
    assert desk(store).ledger.visits().summaries[walk.visit.id]["verdict"] == "borderline"


@pytest.mark.parametrize("content", [{}, {"assessment": None}, {"assessment": {"verdict": 5}}])
def test_the_list_judges_a_signed_visit_whose_seal_does_not_say(
    store: Store, content: dict[str, Any]
):
    walk = begun(store)
    store.seal(walk.visit.id, content)
    row = desk(store).ledger.visits().summaries[walk.visit.id]
    assert (row["verdict"], row["is_signed"]) == (Verdict.NOT_MEASURED, True)


def test_settings_and_the_open_screen_are_on_disk_at_once(store: Store):
    desk(store).set(theme="outdoor", is_customary=True, text_scale=1.6)
    desk(store).ledger.go("check", "visit-1", "breaker.rating")
    again = desk(store)
    assert (again.settings.theme, again.settings.is_customary) == ("outdoor", True)
    assert again.settings.text_scale == 1.6
    assert (again.ledger.position.screen, again.ledger.position.of) == ("check", "breaker.rating")


def test_a_setting_of_another_version_of_the_app_keeps_nobody_out(store: Store):
    store.app_state.save({"settings": {"theme": "night", "of_another_version": 1}})
    assert desk(store).settings.theme == "night"


def test_nobody_signs_without_a_name():
    with pytest.raises(NotReadyError, match=r"nobody is named.*Enter your name"):
        require_technician(Person(name="  "))
    require_technician(Person(name="Invented Person"))


def test_points_and_panels_are_added_from_their_forms(store: Store):
    walk = begun(store)
    fill(store, forms.PANEL, {"name": "Second panel", "is_service": "no"})
    panel = walk.add_panel(desk(store).form(forms.PANEL).entry)
    fill(store, forms.POINT, {**POINT, "name": "Bay 3"})
    point = walk.add_point(desk(store).form(forms.POINT).entry, panel)
    again = Walk(store, walk.visit.id, lambda: NOW).visit
    assert again.point(point).panel == panel
    assert [p.name for p in again.points] == ["Bay 2", "Bay 3"]
    assert len({p.id for p in again.points}) == len({p.id for p in again.panels}) == 2


def walked(store: Store) -> Walk:
    fill(store, forms.BEGIN, BEGIN)
    fill(store, forms.POINT, POINT)
    return desk(store).begin_visit()


def test_a_point_is_copied_with_the_next_free_name_and_no_entry(store: Store) -> None:
    walk = walked(store)
    for name in ("Bay 3", "Bay 4"):
        copied = walk.copy_point("c1")
        made = walk.visit.point(copied)
        assert made.name == name
        own = {"id": made.id, "name": name, "inlet": None, "is_vehicle_asked": False}
        assert made == walk.visit.point("c1").model_copy(update=own)  # nor is its vehicle
    assert desk(store).open(walk.visit.id).visit.entries == ()


def test_another_visit_takes_over_site_and_installation_and_no_answer(store: Store) -> None:
    first = walked(store)
    first.leave_out(NotDoneReason.NO_ACCESS, check_id="service.supply_voltage")
    assert first.visit.entries
    fill(store, forms.AGAIN, {"kind": "site record", "role": "inspects"})
    second = desk(store).begin_again(first.visit.id).visit
    assert (second.kind, second.role) == (VisitKind.SITE_RECORD, Role.INSPECTS)
    assert (second.site, second.panels) == (first.visit.site, first.visit.panels)
    for now, then in zip(second.points, first.visit.points, strict=True):
        assert (now.inlet, now.is_vehicle_asked) == (None, False)  # asked on the day
        assert now == then.model_copy(update={"inlet": None, "is_vehicle_asked": False})
    assert (second.entries, second.states, second.signoff, second.amends) == ((), (), None, None)


def test_a_signed_visit_is_amended_by_a_new_one_that_names_it_and_its_hash(store: Store) -> None:
    first = walked(store).visit.id
    fill(store, forms.AMEND, {"what": "The panel's name", "role": "serves"})
    with pytest.raises(NotReadyError, match="is not signed"):
        desk(store).amend(first)
    store.seal(first, {"by": "nobody"})
    before = store.load(first)
    amends = desk(store).amend(first).visit.amends
    assert amends is not None
    assert (amends.visit, amends.what) == (first, "The panel's name")
    # RFC 8785 by the independent package
    assert amends.sha256 == sha256(rfc8785.dumps(before.visit)).hexdigest()
    assert store.load(first) == before
