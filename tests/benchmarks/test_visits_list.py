"""Ten thousand visits on the screen, as ratios within one run."""

import time
from collections.abc import Callable
from statistics import median
from typing import Any

from tests.ui.loop import SIZES, start_loop, window  # before Kivy: it chooses the window

from kivy.clock import Clock  # isort: skip
from kivy.core.window import Window
from kivy.graphics.opengl import glFinish
from kivy.lang import Builder
from kivy.metrics import dp
from kivy.uix.recycleview import RecycleView

from fieldapp.screens.rows import StandingRow
from fieldapp.widgets import RowList
from fieldapp.widgets import rows as rows_module
from tests.benchmarks.ratios import quickest

MANY, FEW, RUNS = 10_000, 10, 9
FIRST_FRAME, SCROLL = 1.2, 1.1  # the aims


class Bare(RecycleView):
    """The toolkit's own list with the same rows, all of one height."""


def rows(count: int) -> list[dict[str, Any]]:
    """Invented visits, each with words of its own."""
    return [
        {
            "key": f"v{n}",
            "title": f"Invented garage {n}, rear entrance",
            "subtitle": f"outside · service call · {1 + n % 28} Mar 2026 · invented",
            "sign": "outside",
        }
        for n in range(count)
    ]


def bare(count: int) -> Bare:
    """Fill the bare list."""
    made = Bare()
    made.data = [{**row, "chosen": None} for row in rows(count)]
    return made


def ours(count: int) -> RowList:
    """Fill the app's list."""
    made = RowList()
    made.show(rows(count), None)
    return made


def frame() -> None:
    """Lay a frame out."""
    Clock.tick()
    Builder.sync()
    Clock.tick_draw()
    Builder.sync()


def seconds(work: Callable[[], object]) -> float:
    """Of this process alone: what else runs on the machine counts in no ratio."""
    began = time.process_time()
    work()
    return time.process_time() - began


def drawn() -> None:
    """Lay a frame out and draw it."""
    frame()
    Window.dispatch("on_draw")
    glFinish()


def first_frame_s(make: Callable[[int], RecycleView]) -> float:
    """Make a list of ten thousand, lay it out, and take it down."""
    made: list[RecycleView] = []
    rows_module._lines.cache_clear()  # as at a cold start

    def come_up() -> None:
        made.append(make(MANY))
        Window.add_widget(made[0])
        for _ in range(3):
            frame()
        drawn()

    took = seconds(come_up)
    assert made[0].view_adapter.views, "no row is there"
    Window.remove_widget(made[0])
    return took


def scroll_s(count: int) -> float:
    """Lay out a frame at each of thirty places of a list of so many rows."""
    made = ours(count)
    Window.add_widget(made)
    for _ in range(3):
        frame()
    drawn()
    spare = made.children[0].height - made.height
    took = []
    for n in range(0, 60, 2):
        made.scroll_y = 1 - min(1.0, n * dp(2) / spare)  # a finger
        took.append(seconds(drawn))
    Window.remove_widget(made)
    return median(took)


def test_ten_thousand_visits_come_up_like_a_bare_list_and_scroll_like_ten() -> None:
    assert StandingRow  # its rule is loaded with the rows'
    start_loop()
    Builder.load_string(
        "<Bare>:\n"
        "    viewclass: 'ListRow'\n"
        "    RecycleBoxLayout:\n"
        "        orientation: 'vertical'\n"
        "        default_size: None, dp(76)\n"
        "        default_size_hint: 1, None\n"
        "        size_hint_y: None\n"
        "        height: self.minimum_height\n"
    )
    with window(SIZES["small"]):
        floor, own = quickest(lambda: (first_frame_s(bare), first_frame_s(ours)), FIRST_FRAME, RUNS)
        few, many = quickest(lambda: (scroll_s(FEW), scroll_s(MANY)), SCROLL, RUNS)
    print(f"bare {floor * 1000:.0f} ms, ours {own * 1000:.0f} ms, ratio {own / floor:.2f}")
    print(f"scroll {few * 1000:.2f} ms, {many * 1000:.2f} ms, ratio {many / few:.2f}")
    assert own / floor <= FIRST_FRAME
    assert many / few <= SCROLL
