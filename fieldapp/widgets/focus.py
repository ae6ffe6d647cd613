"""Where the keyboard is: one of all the places on what lies on top that answer a key.

A key of a page, a field, a station of a diagram, and of a long list one row are such places. The
page scrolls after them; a text with none in it is scrolled by the arrows.
"""

from collections.abc import Iterator
from typing import Any, Final, NamedTuple
from weakref import ReferenceType, ref

from kivy.core.window import Window
from kivy.uix.scrollview import ScrollView
from kivy.uix.textinput import TextInput
from kivy.uix.widget import Widget

from fieldapp.widgets.page import Page, PageHeader
from fieldapp.widgets.rows import ListRow, RowList
from fieldapp.widgets.scene_view import SceneView
from fieldapp.widgets.scrolling import Box, bring, frame, scroll, spare
from fieldapp.widgets.slab import Pressable

_STEP: Final = 0.6  # of what is in view, that an arrow scrolls
_ASIDE: Final = 3.0  # how much worse a place is that lies aside


class Place(NamedTuple):
    """A widget, or a station of the diagram that it shows."""

    widget: Any
    station: str = ""

    @property
    def has_focus(self) -> bool:
        """Whether the keyboard is here."""
        match self.widget:
            case TextInput():
                return bool(self.widget.focus)
            case SceneView():
                return bool(self.widget.focused_key == self.station)
        return bool(self.widget.focused)

    @property
    def box(self) -> Box:
        """Where it is, scrolled away or not."""
        match self.widget:
            case SceneView():
                return self.widget.window_box(self.station)
            case RowList() if self.widget.focused:
                return self.widget.row_box
        x, y = self.widget.to_window(*self.widget.pos)
        return x, y, x + self.widget.width, y + self.widget.height

    @property
    def scroller(self) -> ScrollView | None:
        """The area it scrolls with."""
        return next((w for w in _above(self.widget) if isinstance(w, ScrollView)), None)

    def take(self) -> None:
        """Bring the keyboard here, and the place into view."""
        global _last
        match self.widget:
            case TextInput():
                self.widget.focus = True
            case SceneView():
                self.widget.focused_key = self.station
            case _:
                self.widget.focused = True
        _last = ref(self.widget), self.station
        if self.scroller is not None:
            bring(self.scroller, self.box)

    def give_up(self) -> None:
        """Take the keyboard away."""
        match self.widget:
            case TextInput():
                self.widget.focus = False
            case SceneView():
                self.widget.focused_key = ""
            case _:
                self.widget.focused = False

    def press(self) -> None:
        """Do what a tap does."""
        if isinstance(self.widget, SceneView):
            self.widget.dispatch("on_hit", self.station)
        else:
            self.widget.press()


# Where the keyboard was last: a field that was left by Enter is gone on from.
_last: tuple[ReferenceType[Widget], str] | None = None


def focused(top: Widget) -> Place | None:
    """Where the keyboard is on what lies on top, if it is anywhere."""
    return next((place for place in _places(top) if place.has_focus), None)


def step(top: Widget, by: int) -> bool:
    """Go to the next place, or the one before; around at the end. True when there is one."""
    places = list(_places(top))
    if not places:
        return False
    here = focused(top) or _remembered(places)
    if here is not None:
        found = places[(places.index(here) + by) % len(places)]
    else:
        found = _first(places) if by > 0 else places[-1]
    _go(top, found)
    return True


def move(top: Widget, right: int, up: int) -> bool:
    """Go to the nearest place that way, or scroll to what has none. True when either was done."""
    places = list(_places(top))
    here = focused(top) or _remembered(places)
    if here is not None and up and isinstance(here.widget, RowList) and here.widget.step(-up):
        return True
    area = here.scroller if here is not None else _area(top)
    if here is None:
        found = _first(places) if places else None
        if found is not None and not _is_in_view(found):
            found = None
    else:
        found = _nearest([p for p in places if p != here], here, right, up)
    is_far = found is None or area is None or not _is_near(found, area)
    if up and area is not None and is_far and scroll(area, up * _STEP):
        return True
    if found is not None:
        _go(top, found)
    return found is not None


def page(top: Widget, up: int, *, all_the_way: bool = False) -> bool:
    """Scroll by what is in view, or to the end."""
    here = focused(top)
    if here is not None and isinstance(here.widget, RowList):
        return bool(here.widget.step(-up, is_page=True, all_the_way=all_the_way))
    area = here.scroller if here is not None and here.scroller is not None else _area(top)
    return area is not None and scroll(area, up * (1e6 if all_the_way else 0.9))


def hide(*_: Any) -> None:
    """Take the ring away: a finger is on the glass, and sees for itself."""
    for top in Window.children:
        for place in _places(top):
            if place.has_focus and not isinstance(place.widget, TextInput):
                place.give_up()


def _places(top: Widget) -> Iterator[Place]:
    """Everything that answers a key, in the order it is read in; a long list counts once."""
    for widget in top.walk(restrict=True):
        if isinstance(widget, ListRow) and isinstance(widget.parent.parent, RowList):
            continue
        if isinstance(widget, SceneView):
            hits = widget.scene.hits if widget.scene is not None else ()
            yield from (Place(widget, hit.key) for hit in hits)
        elif isinstance(widget, RowList):
            if widget.data:
                yield Place(widget)
        elif isinstance(widget, Pressable | TextInput) and not widget.disabled:
            yield Place(widget)


def _remembered(places: list[Place]) -> Place | None:
    if _last is None:
        return None
    widget, station = _last
    return next((p for p in places if p == (widget(), station)), None)


def _first(places: list[Place]) -> Place:
    """Where a page begins: after the keys of its header and the path beside it."""
    above = [(p, [type(w) for w in _above(p.widget)]) for p in places]
    inside = [p for p, kinds in above if PageHeader not in kinds]
    on_page = [p for p, kinds in above if any(issubclass(k, Page) for k in kinds) and p in inside]
    return (on_page or inside or places)[0]


def _go(top: Widget, found: Place) -> None:
    for place in _places(top):
        if place.has_focus and place != found:
            place.give_up()
    found.take()


def _above(widget: Widget) -> Iterator[Widget]:
    parent = widget.parent
    while isinstance(parent, Widget):
        yield parent
        parent = parent.parent


def _area(top: Widget) -> ScrollView | None:
    """Return the page's scrolling area, not that of the path beside, if it has more to show."""
    areas = [w for w in top.walk(restrict=True) if isinstance(w, ScrollView) and spare(w) > 0]
    return areas[-1] if areas else None


def _is_in_view(place: Place) -> bool:
    area = place.scroller
    return area is None or (frame(area)[1] <= place.box[1] and place.box[3] <= frame(area)[3])


def _is_near(place: Place, area: ScrollView) -> bool:
    """Whether it is in the area and no more than a view away: no text is jumped over."""
    low, high = frame(area)[1], frame(area)[3]
    reach = _STEP * area.height
    return place.scroller is area and low - reach <= place.box[3] and place.box[1] <= high + reach


def _nearest(places: list[Place], here: Place, right: int, up: int) -> Place | None:
    """Return the nearest that way: with what scrolls together first, then what is in view."""
    there = [(_distance(here.box, p.box, right, up), p) for p in places]
    ahead = [(far, p) for far, p in there if far is not None]
    beside = [each for each in ahead if each[1].scroller is here.scroller]
    seen = [each for each in ahead if _is_in_view(each[1])]
    found = (beside if up and here.scroller is not None else []) or seen
    return min(found, key=lambda each: each[0])[1] if found else None


def _distance(a: Box, b: Box, right: int, up: int) -> float | None:
    """How far b is from a that way; none where it does not lie that way."""
    along = (b[0] - a[2], a[0] - b[2], b[1] - a[3], a[1] - b[3])  # right, left, up, down
    if right:
        gap, aside = along[0 if right > 0 else 1], max(along[2:])
    else:
        gap, aside = along[2 if up > 0 else 3], max(along[:2])
    if gap < -1:
        return None
    middle = abs(a[0] - b[0]) + abs(a[3] - b[3])  # of equals, the one at the same edge
    return max(0.0, gap) + _ASIDE * max(0.0, aside) + middle / 1000


Window.bind(on_touch_down=hide)
