"""A heating series is recorded by touch: its timer asks for readings, a stop sign ends it."""

from collections.abc import Callable, Iterator
from datetime import timedelta
from math import exp
from pathlib import Path

import pytest

from tests.ui.driver import Ui  # before Kivy: it chooses the window
from tests.ui.loop import SIZES, window

from checks.verdict import Severity, Verdict  # isort: skip
from fieldapp.app import FieldApp
from fieldapp.walk.measuring import readings_of
from fieldapp.widgets import NumberPad, SceneView
from tests.fakes.device import FakeDevice
from tests.gallery.walking import begin, desk_in, walk_to
from tests.ui.hand import Hand

OUTLET = "outlet.temperature"
AIR_C = 22.0
Shape = Callable[[float], float]


def sound(minutes: float) -> float:
    """A contact that rises by 9 K with a time constant of 9 min (first order, textbook). [K]."""
    return 9 * (1 - exp(-minutes / 9))


def bad(minutes: float) -> float:
    """One that rises by 70 K with a time constant of 12 min. [K]."""
    return 70 * (1 - exp(-minutes / 12))


class Bench:
    """An app at the check of the outlet's temperature, the hand on it, and the clock."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.device = folder, FakeDevice(folder)
        with desk_in(folder) as desk:
            walk = begin(desk)
            walk_to(walk, OUTLET)
            desk.ledger.go("path", walk.visit.id)
        self.come_up()

    def come_up(self) -> None:
        self.ui = Ui(FieldApp(self.folder, self.device))
        self.ui.settle()
        self.hand = Hand(self.ui)

    @property
    def walk(self):
        return self.hand.walk

    @property
    def asked(self) -> str:
        return self.walk.questions.current.name

    def let_pass(self, seconds: float) -> None:
        """Let the clock of the device go on, and the app look at it."""
        self.device.let_pass(timedelta(seconds=seconds))
        self.ui.seconds(0.6)

    def begin(self) -> None:
        self.hand.press_main()
        self.hand.accept_cautions()
        self.ui.tap_text("Contact probe")
        self.begun = self.device.clock

    def read(self, shape: Shape) -> str:
        """Type what the thermometer or the clamp shows for what is asked; return what that was."""
        minutes = (self.device.clock - self.begun) / timedelta(minutes=1)
        part_c = AIR_C + shape(minutes)
        shown = {"ambient": AIR_C, "current": 39.6, "surface": part_c, "like_part": part_c - 0.4}
        name = self.asked
        assert self.ui.one(NumberPad).text == ""
        self.hand.number(f"{shown[name]:.1f}")
        return name

    def measure(self, shape: Shape, until_min: float) -> None:
        """Read whatever is asked, and wait while nothing is."""
        while self.device.clock - self.begun < timedelta(minutes=until_min):
            if not self.ui.all(NumberPad):
                self.let_pass(max(1.0, self.walk.due.in_s))
                continue
            self.read(shape)
            if self.hand.at != "check" or not self.ui.sees("Smoke, smell"):
                return
            self.let_pass(10)


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    with window(SIZES["small"]):
        made = Bench(tmp_path)
        yield made
        made.ui.close()


def test_a_series_is_recorded_with_the_timer_to_its_forecast(bench: Bench) -> None:
    ui = bench.ui
    bench.begin()
    assert [bench.read(sound) for _ in range(4)] == ["ambient", "current", "surface", "like_part"]
    assert not ui.all(NumberPad)
    assert ui.sees("2:00")
    assert ui.sees("until the next: Hottest surface")

    bench.let_pass(75)
    assert ui.sees("0:45")
    bench.let_pass(45)
    assert bench.asked == "surface"  # asked for by the clock, without a touch

    bench.measure(sound, 6)
    assert ui.sees("keep measuring about")
    bench.measure(sound, 24)
    while ui.all(NumberPad):
        bench.read(sound)
    assert ui.sees("The outlet ends")
    ui.tap_text("End measuring")
    ui.tap_text("None, all the time")
    row = walk_row(bench)
    assert row.judgement.verdict is Verdict.WITHIN
    entry = next(e for e in bench.walk.visit.entries if e.number == row.entry)
    assert len(readings_of(entry, "surface")) >= 10
    assert len(readings_of(entry, "current")) == 3  # every ten minutes
    assert [v for v in ui.all(SceneView) if v.scene and v.scene.height > 200]  # the curve


def walk_row(bench: Bench):
    return bench.walk.assessment.row(OUTLET, bench.walk.point_id)


def test_a_locked_phone_or_an_ended_app_stops_no_timer(bench: Bench) -> None:
    bench.begin()
    for _ in range(4):
        bench.read(sound)
    bench.device.let_pass(timedelta(minutes=1))
    bench.ui.close()
    bench.come_up()
    assert bench.ui.sees("1:00")
    bench.ui.close()
    bench.device.let_pass(timedelta(minutes=7))
    bench.come_up()
    assert bench.asked == "surface"
    assert bench.walk.lasted_s == 8 * 60


def test_a_reading_is_corrected_at_its_own_time_or_left_out(bench: Bench) -> None:
    ui = bench.ui
    bench.begin()
    for _ in range(4):
        bench.read(sound)
    at = readings_of(bench.walk.questions.entry, "surface")[0].at
    bench.let_pass(30)
    ui.tap_text("22.0 °C")
    assert ui.one(NumberPad).text != ""
    ui.tap_text("Leave it out")
    assert ui.all(NumberPad)  # it was the only one of its series, which is then due at once
    assert sum(len(readings_of(bench.walk.questions.entry, n)) for n in SERIES) == 3

    missing = bench.asked
    bench.hand.number("23.1")
    bench.let_pass(10)
    ui.tap_text("23.1 °C")
    taken = bench.walk.questions.typed[f"{missing} at"]
    ui.pad("5")
    ui.tap_text("Add 23.15 °C")
    corrected = readings_of(bench.walk.questions.entry, missing)[0]
    assert (corrected.value, corrected.at) == ("23.15", taken)
    assert corrected.at > at


SERIES = ("ambient", "current", "surface", "like_part")


def test_a_stop_sign_is_one_tap_away_and_ends_the_test(bench: Bench) -> None:
    ui = bench.ui
    bench.begin()
    for _ in range(4):
        bench.read(sound)
    ui.tap_text("Smoke, smell")
    ui.tap_text("Smell of heat")
    assert ui.sees("Stop. Switch the current off from a safe point")
    bench.hand.accept_cautions()
    assert bench.hand.at == "result"
    judged = walk_row(bench).judgement
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)


def test_the_stop_temperature_interrupts_and_nothing_more_is_asked(bench: Bench) -> None:
    ui = bench.ui
    bench.begin()
    bench.measure(bad, 20)
    assert ui.sees("Stop. Switch the current off from a safe point")
    bench.hand.accept_cautions()
    assert not ui.all(NumberPad)
    assert not ui.sees("keep measuring"), "|".join(ui.texts())
    assert bench.hand.at == "result"
    judged = walk_row(bench).judgement
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)
