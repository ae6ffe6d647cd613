"""What is to be done, may it be used, and how it was worked out: under a finger."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.ui.driver import Ui  # before Kivy: it chooses the window

from checks.assess import MENDING, Part, use, work  # isort: skip
from checks.verdict import Verdict
from fieldapp.app import FieldApp
from fieldapp.screens.interruptions import STAYS_ON_STILL
from fieldapp.walk import forms
from fieldapp.widgets import SeverityBanner
from fieldapp.widgets.scrolling import spare
from tests.fakes.device import FakeDevice
from tests.gallery.states import stage
from tests.gallery.walking import desk_in

Open = Callable[[str], Ui]


def banners(ui: Ui) -> list[tuple[str, str]]:
    return [(b.severity, b.text) for b in ui.all(SeverityBanner)]


def test_the_work_leads_to_each_check_and_back_to_the_findings(come_up: Open) -> None:
    ui = come_up("findings")
    ui.tap_text("Work to do")
    walk = ui.app.guide.walk
    tasks = work(walk.assessment)
    assert ui.find_text(f"1. {Part.MEND}")
    assert ui.find_text(MENDING)
    for task in tasks:
        assert ui.find_text(task.row.title)
    row = ui.find_text(tasks[0].row.title)
    ui.tap(row)
    assert ui.app.guide.ledger.position.of == f"{tasks[0].row.check}@{tasks[0].row.subject}"
    ui.app.guide.go("work")
    ui.tap_text("Back")
    assert ui.app.guide.ledger.position.screen == "findings"


def test_of_a_long_list_one_part_is_open_at_a_time(
    come_up: Open, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fieldapp.screens.work.FEW", 5)
    ui = come_up("work")
    tasks = work(ui.app.guide.walk.assessment)
    last = tasks[-1]
    count = sum(t.part is last.part for t in tasks)
    assert ui.sees(Part.MEND)
    key = ui.find_text(f"{last.part}: {count}")
    ui.tap(key)
    assert ui.find_text(last.row.title)
    assert ui.find_text(f"1. {Part.MEND}: {sum(t.part is Part.MEND for t in tasks)}")


@pytest.mark.parametrize("screen", ["path", "work", "sign_off"])
def test_whether_it_may_be_used_stands_first_under_its_signal_word(
    come_up: Open, screen: str
) -> None:
    ui = come_up("path")
    ui.app.guide.go(screen)
    ui.rest()
    found = ui.app.guide.walk.assessment
    assert banners(ui)[0] == ("danger", use(found))
    assert ui.sees("Do not use it")


@pytest.mark.parametrize("screen", ["path", "work", "sign_off"])
def test_what_stays_on_is_not_said_to_be_switched_off(come_up: Open, screen: str) -> None:
    ui = come_up("path_stays_on")
    ui.app.guide.go(screen)
    ui.rest()
    assert banners(ui)[0] == ("danger", STAYS_ON_STILL)
    assert not ui.sees("keep it off and locked")


def test_what_is_foreseen_counts_at_the_sign_off_and_stands_in_the_work(come_up: Open) -> None:
    ui = come_up("trends")
    guide = ui.app.guide
    (coming,) = [t for t in guide.desk.trends(guide.walk) if t.severity is not None]
    count = len(guide.walk.assessment.findings) + 1
    for screen in ("findings", "work", "sign_off"):
        guide.go(screen)
        ui.rest()
        assert ui.find_text(f"{coming.of}, if it goes on")
    assert ui.sees(f"{count} finding")


def test_the_working_stands_behind_a_key_and_the_page_stays_where_it_was(come_up: Open) -> None:
    ui = come_up("result_joint")
    screen = ui.app.guide.screen
    assert screen._row.judgement.verdict is Verdict.OUTSIDE
    assert "How it was worked out" not in " ".join(ui.texts())
    shown = ui.find_text("Show how it was worked out")
    ui.show(shown)
    above_px = (1 - screen.scroll.scroll_y) * spare(screen.scroll)
    ui.tap(shown)
    ui.rest()
    assert ui.find_text("How it was worked out")
    now_px = (1 - screen.scroll.scroll_y) * spare(screen.scroll)
    assert now_px == pytest.approx(above_px, abs=2)
    screen.enter(screen.of)
    ui.rest()
    assert ui.find_text("Show how it was worked out")  # folded again when it comes up anew


@pytest.mark.parametrize(
    "position",
    [
        {"screen": "station", "of": "grid"},
        {"screen": "state", "of": "half dead"},
        {"screen": "result", "of": "no place"},
        {"screen": "note", "of": "7"},
        {"screen": "photos", "of": "x@y/z"},
        {"screen": "mark", "of": "x"},
        {"screen": "nowhere", "of": ""},
    ],
)
def test_a_place_that_makes_no_sense_keeps_nobody_out(
    ui: Callable[[Any], Ui], tmp_path: Path, position: dict[str, str]
) -> None:
    stage("path", tmp_path)
    with desk_in(tmp_path) as desk:
        visit = desk.ledger.position.visit
        desk.ledger.keep(position={**position, "visit": visit})
    app = ui(FieldApp(tmp_path, FakeDevice(tmp_path)))
    assert app.app.guide.ledger.position.screen == "visits"
    app.app.guide.open_visit(visit)
    app.rest()
    assert app.app.guide.ledger.position.screen == "path"


@pytest.mark.parametrize("kept", [3, {}, {"entry": {}}, {"entry": {"number": "x"}, "typed": 1}])
def test_a_form_that_cannot_be_read_begins_anew(
    ui: Callable[[Any], Ui], tmp_path: Path, kept: object
) -> None:
    with desk_in(tmp_path) as desk:
        desk.ledger.keep(forms={forms.BEGIN.id: kept})
        desk.ledger.go("form", of=forms.BEGIN.id)
    app = ui(FieldApp(tmp_path, FakeDevice(tmp_path)))
    assert app.sees(forms.BEGIN.inputs[0].label)
