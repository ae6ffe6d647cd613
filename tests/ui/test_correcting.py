"""What the visit was begun with is corrected by touch, from where somebody would look for it."""

from collections.abc import Callable
from pathlib import Path

from checks.record import Coupler
from fieldapp.screens.rows import LabelledRow
from fieldapp.widgets import Words
from tests.fakes.device import FakeDevice
from tests.gallery.walking import begin, desk_in, make
from tests.ui.driver import TextInput, Ui  # before Kivy: it chooses the window
from tests.ui.dying import come_up_again, killed
from tests.ui.hand import Hand
from tests.unit.test_set_aside import long_run

Open = Callable[[str], Ui]


def read_to_the_end(hand: Hand) -> None:
    hand.ui.top.ids.scroll.scroll_y = 0
    hand.ui.frames(3)


def test_another_inlet_is_taken_after_a_wrong_turn_and_can_be_taken_back(come_up: Open) -> None:
    ui = come_up("path")
    hand = Hand(ui)
    visit = hand.walk.visit
    ui.tap_text("What is installed")
    ui.tap_text("Inlet of the vehicle")
    ui.tap_text("No vehicle here")  # a slip
    assert ui.sees("Would become: ")
    assert ui.sees("2 stations off the path")
    assert ui.sees("Adapter; Vehicle")
    ui.tap_text("Leave it as it is")
    assert (hand.at, hand.walk.visit) == ("correct", visit)
    ui.tap_text("SAE J1772")
    assert ui.sees("1 station off the path")
    assert ui.sees("Adapter: listing and rating")
    read_to_the_end(hand)
    ui.tap_text("Correct it")
    assert hand.at == "facts"
    assert ui.sees("Before: SAE J3400")
    ui.tap_text("Path")
    assert len(hand.walk.visit.entries) == len(visit.entries)  # the adapter's own are kept
    assert not hand.walk.point.has_adapter
    ui.tap_text("Undo: the correction")
    now = hand.walk.visit
    assert (now.points, now.entries, now.corrections) == (visit.points, visit.entries, ())


def test_from_a_station_only_what_is_installed_there_is_asked(come_up: Open) -> None:
    ui = come_up("station")  # the outlet
    hand = Hand(ui)
    ui.tap_text("Correct what is installed")
    row = next(r for r in ui.all(LabelledRow) if "Connection" in [w.text for w in ui.all(Words, r)])
    assert row.title == "Level 2, fixed unit on a receptacle"
    assert not [r for r in ui.all(LabelledRow) if any("?" in w.text for w in ui.all(Words, r))]
    assert not ui.sees("Permit number")
    ui.tap_text("Connection")
    ui.tap_text("Leave it as it is")
    assert hand.at == "facts"
    ui.back()
    assert (hand.at, hand.walk.visit.corrections) == ("station", ())


def test_a_second_panel_is_found_and_feeds_the_point(come_up: Open) -> None:
    ui = come_up("path")
    hand = Hand(ui)
    made = len(hand.walk.visit.entries)
    hand.station("panel")
    ui.tap_text("Correct what is installed")
    ui.tap_text("Panel that feeds it")
    ui.tap_text("Add a panel")
    hand.fill_form("handover.panel", name="Panel B", is_service="no")
    assert hand.at == "correct"  # back at the question that it was asked for
    ui.tap_text("Panel B")
    lines = [w.text for w in ui.all(Words, ui.top) if w.strong]
    again = next(line for line in lines if line.endswith("to make again"))
    assert again.split()[0].isdecimal()
    read_to_the_end(hand)
    ui.tap_text("Correct it")
    visit = hand.walk.visit
    assert visit.panel(visit.points[0].panel).name == "Panel B"
    assert len(visit.entries) == made
    assert len(visit.corrections) == 1


def test_half_the_name_of_the_authority_is_there_after_the_process_was_ended(
    tmp_path: Path,
) -> None:
    killed(tmp_path, "correcting")
    with come_up_again(tmp_path, FakeDevice(tmp_path)) as ui:
        hand = Hand(ui)
        assert hand.at == "correct"
        assert ui.one(TextInput).text == "City of Ex"
        assert hand.walk.visit.corrections == ()
        ui.tap(ui.one(TextInput))
        ui.type("ample")
        ui.tap_text("Take it")
        assert hand.walk.visit.site.authority == "City of Example"
        assert hand.at == "facts"


def test_a_name_is_not_corrected_to_nothing_and_a_permit_number_may_be(come_up: Open) -> None:
    ui = come_up("correct_words")
    hand = Hand(ui)
    field = ui.one(TextInput)
    assert field.text == "P-00"
    ui.tap(field)
    field.text = ""
    ui.frames(3)
    ui.tap_text("Take it")
    assert (hand.at, hand.walk.visit.site.permit_number) == ("facts", "")
    ui.tap_text("Name of the site")
    ui.one(TextInput).text = "  "
    ui.tap_text("Take it")
    assert ui.sees("Nothing stands there yet")


def test_on_a_return_the_vehicle_that_is_here_today_is_asked_first(come_up: Open) -> None:
    ui = come_up("path")
    hand = Hand(ui)
    assert hand.walk.point.inlet is not None
    ui.tap_text("Charging points: 1")
    ui.tap_text("Another visit to this site")
    hand.fill_form("handover.again", kind="site record", role="inspects")
    assert hand.walk.point.inlet is None
    assert hand.main_key().text == "Say which vehicle is here"
    hand.station("vehicle")
    ui.tap_text("Vehicle's inlet")
    assert ui.sees("first: say which vehicle is here")
    ui.tap_text("Say which vehicle is here")
    chosen = [w for w in ui.all() if getattr(w, "selected", None)]
    assert chosen == []  # nothing is chosen beforehand
    ui.tap_text("SAE J3400")
    assert (hand.at, hand.walk.point.inlet) == ("path", Coupler.J3400)
    assert hand.main_key().text.startswith("Next: ")
    assert hand.walk.visit.corrections == ()


def test_a_point_added_by_slip_is_taken_away_and_put_back(come_up: Open) -> None:
    ui = come_up("path")
    hand = Hand(ui)
    name = hand.walk.point.name
    ui.tap_text("Charging points: 1")
    assert not ui.sees(f"Take {name} away")  # the only one stays
    ui.tap_text(f"Add one more like {name}")
    slip = hand.walk.point
    ui.tap_text(f"Take {slip.name} away")
    ui.tap_text("Leave it")
    assert len(hand.walk.visit.points) == 2
    ui.tap_text(f"Take {slip.name} away")
    ui.tap_text("Take it away")
    assert (hand.at, [p.name for p in hand.walk.visit.points]) == ("points", [name])
    assert ui.sees(f"{slip.name} taken away")
    ui.tap_text("Undo")
    assert hand.walk.visit.points[1:] == (slip,)
    ui.tap_text(f"Take {slip.name} away")
    ui.tap_text("Take it away")
    ui.tap_text("Path")
    ui.tap_text(f"Undo: {slip.name} taken away")
    assert (hand.at, hand.walk.point) == ("path", slip)


def test_what_something_is_recorded_of_stays_and_says_what_to_do(come_up: Open) -> None:
    ui = come_up("path")
    hand = Hand(ui)
    first = hand.walk.point
    ui.tap_text("Charging points: 1")
    ui.tap_text(f"Add one more like {first.name}")
    ui.tap_text(first.name)
    ui.tap_text("What is installed")
    ui.tap_text(f"Take {first.name} away")
    assert ui.sees("Something is recorded of it: ")
    assert ui.sees("correct what is wrong about it")
    ui.tap_text("Close")
    assert (hand.at, len(hand.walk.visit.points)) == ("facts", 2)


def test_a_panel_added_by_slip_is_taken_away_where_it_is_listed(come_up: Open) -> None:
    ui = come_up("path")
    hand = Hand(ui)
    (panel,) = hand.walk.visit.panels
    ui.tap_text("Charging points: 1")
    ui.tap_text("Add a panel")
    hand.fill_form("handover.panel", name="Panel B", is_service="no")
    ui.tap_text("Path")
    ui.tap_text("What is installed")
    ui.tap_text(f"Take {panel.name} away")
    assert ui.sees(f"It feeds {hand.walk.point.name}")
    ui.tap_text("Close")
    ui.tap_text("Take Panel B away")
    ui.tap_text("Take it away")
    assert hand.walk.visit.panels == (panel,)
    ui.tap_text("Undo")
    assert [p.name for p in hand.walk.visit.panels] == [panel.name, "Panel B"]


def test_on_a_return_a_corrected_name_keeps_what_was_found_before(come_up: Open) -> None:
    ui = come_up("trends_earlier")
    hand = Hand(ui)
    before = hand.guide.desk.reinspections(hand.walk)
    assert [r.subject for r in before if r.is_standing_grave]
    for label, name in (
        ("Name of the site", "Another invented garage"),
        ("Name of the charging point", "Bay 1 north"),
        ("Name of the panel", "Main panel"),
    ):  # each by touch, from the list of what is installed
        hand.guide.go("facts")
        ui.settle()
        ui.tap_text(label)
        ui.one(TextInput).text = name
        ui.tap_text("Take it")
        assert hand.at == "facts"
    for screen in ("path", "findings", "sign_off"):
        hand.guide.go(screen)
        ui.settle()
        assert hand.at == screen
    assert ui.sees("Found earlier and not inspected again")
    now = hand.guide.desk.reinspections(hand.walk)
    assert [(r.check, r.subject) for r in now] == [(r.check, r.subject) for r in before]


def test_a_name_that_another_point_has_is_refused_where_it_is_typed(come_up: Open) -> None:
    ui = come_up("path")
    hand = Hand(ui)
    name = hand.walk.point.name
    hand.guide.go("points")
    ui.settle()
    ui.tap_text("Add a charging point")
    ui.one(TextInput).text = name.upper()
    ui.tap_text("Next")
    assert ui.sees("would be called so")
    assert (hand.at, len(hand.walk.visit.points)) == ("form", 1)


def test_a_danger_that_a_correction_sets_aside_is_told_before_it_and_at_the_sign_off(
    tmp_path: Path, come_up: Open
) -> None:
    with desk_in(tmp_path) as desk:
        walk = begin(desk, kind="site record")
        make(walk, "vehicle.inlet_condition", {"vehicle.inlet_condition.has_burn_marks": "yes"})
        desk.ledger.go("correct", walk.visit.id, "inlet@c1@")
    ui = come_up("")
    hand = Hand(ui)
    ui.tap_text("No vehicle here")
    assert ui.sees("Found, and set aside by this; it may be so yet")
    assert ui.sees("Vehicle's inlet (Bay 1): Burn marks")
    read_to_the_end(hand)
    ui.tap_text("Correct it")
    for screen in ("findings", "sign_off"):
        if screen == "findings":
            hand.to_path()
            ui.tap_text("1 finding")
            assert ui.sees("Set aside: ")
        else:
            hand.guide.go(screen)
        ui.settle()
        assert ui.sees("set aside by the correction of Bay 1: Burn marks")
        assert not ui.sees("Nothing wrong was found")
        assert not ui.sees("No finding so far")


def test_a_warning_by_the_code_named_before_only_is_told_and_raises_no_alarm(
    tmp_path: Path, come_up: Open
) -> None:
    long = long_run().as_recorded(9)
    with desk_in(tmp_path) as desk:
        desk.store.save(long.model_dump(mode="json"))
        desk.ledger.go("correct", long.id, "code@site")
    ui = come_up("")
    hand = Hand(ui)
    ui.tap_text("NEC (NFPA 70), edition 2023")
    assert ui.sees("A danger or a warning so far, and neither after this")
    assert ui.sees("Run length (Bay 1)")
    assert not ui.sees("it may be so yet")
    read_to_the_end(hand)
    ui.tap_text("Correct it")
    for screen, words in (  # beside the notice that stands, too
        ("findings", "under the code named before and none under the one named now"),
        ("sign_off", "under the code named before, and neither under the one named now"),
    ):
        hand.guide.go(screen)
        ui.settle()
        assert ui.sees(words), screen
        assert not ui.sees("may be so yet")
