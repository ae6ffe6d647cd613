"""Everything that can be wrong with how a screen is laid out, measured from its real widgets."""

from typing import Any

from kivy.metrics import dp
from kivy.uix.label import Label

from fieldapp.figures.scene import Scene, Text, text_width
from fieldapp.theme import TOUCH_ACTION_DP
from fieldapp.widgets import Actions, Dock, KeyButton, PadKey, Pressable, SceneView
from tests.ui.contrast import faint_texts
from tests.ui.driver import Ui
from tests.ui.keyboard import unreached
from tests.ui.sight import apart, box_of, common, name_of, parents

_SLACK = 0.5
_FLOOR_DP = 48.0  # the least that a gloved finger is asked to hit: common practice, no source


def faults(ui: Ui) -> list[str]:
    """What a glove or a key would miss or an eye could not read on what lies on top."""
    return [
        *(f"small target: {x}" for x in ui.small_targets(_FLOOR_DP)),
        *(f"small key: {x}" for x in small_main_keys(ui)),
        *(f"too close: {x}" for x in ui.overlaps()),
        *(f"clipped: {x}" for x in ui.clipped_labels()),
        *(f"off screen: {x}" for x in ui.off_screen()),
        *(f"over each other: {x}" for x in texts_over_each_other(ui)),
        *(f"figure: {x}" for x in faults_in_figures(ui)),
        *(f"faint: {x}" for x in faint_texts(ui.all(root=ui.top))),
        *(f"no key leads to: {x}" for x in unreached(ui)),
    ]


def small_main_keys(ui: Ui) -> list[str]:
    """Keys of a pad, a dock or the actions that are under the size for gloves."""
    floor = dp(TOUCH_ACTION_DP) - _SLACK
    return [
        f"{name_of(w)}: {w.width:.0f} × {w.height:.0f}"
        for w in ui.all(Pressable, ui.top)
        if isinstance(w, PadKey) or (isinstance(w, KeyButton) and _is_main(w))
        if min(w.size) < floor
    ]


def _is_main(widget: Any) -> bool:
    return any(isinstance(parent, Dock | Actions) for parent in parents(widget))


def texts_over_each_other(ui: Ui) -> list[str]:
    """Pairs of labels whose texts are drawn over each other."""
    labels = [w for w in ui.all(Label, ui.top) if w.text.strip() and w.opacity and ui._is_seen(w)]
    boxes = [(w, common(ui._seen_box(w), box_of(w))) for w in labels]
    return [
        f"{a.text!r} and {b.text!r}"
        for i, (a, box_a) in enumerate(boxes)
        for b, box_b in boxes[i + 1 :]
        if not apart(box_a, box_b, -1.0)
    ]


def faults_in_figures(ui: Ui) -> list[str]:
    """Texts that leave their figure or lie over each other, boxes too small to touch."""
    found = []
    for view in ui.all(SceneView, ui.top):
        scene: Scene | None = view.scene
        if scene is None:
            continue
        touched = [min(h.w, h.h) * view.scale for h in scene.hits]
        found += [f"a box of {x:.0f}" for x in touched if x < dp(_FLOOR_DP) - _SLACK]
        texts = [(item, _text_box(item)) for item in scene.items if isinstance(item, Text)]
        found += [
            f"{item.text!r} leaves it"
            for item, (x0, y0, x1, y1) in texts
            if x0 < -_SLACK or y0 < -_SLACK or x1 > scene.width + 1 or y1 > scene.height + 1
        ]
        found += [
            f"{a.text!r} over {b.text!r}"
            for i, (a, box_a) in enumerate(texts)
            for b, box_b in texts[i + 1 :]
            if not apart(box_a, box_b, -1.0)
        ]
    return found


def _text_box(item: Text) -> tuple[float, float, float, float]:
    """Box of a text's letters: less high than its line."""
    width, half = text_width(item.text, item.size), item.size * 0.4
    x = item.at[0] - {"start": 0.0, "middle": width / 2, "end": width}[item.anchor]
    return x, item.at[1] - half, x + width, item.at[1] + half
