"""The path of the current: the home of a visit."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

from kivy.metrics import dp
from kivy.properties import BooleanProperty
from kivy.uix.widget import Widget

from checks.intake import BY_ID
from checks.record import DangerAnswer, Entry
from checks.trends import PointTrend
from fieldapp.figures.scene import text_width
from fieldapp.language import Said
from fieldapp.screens.diagram import path_diagram
from fieldapp.screens.findings import found_count
from fieldapp.screens.guide import Guide
from fieldapp.screens.interruptions import load_back
from fieldapp.screens.kit import VISIT
from fieldapp.screens.onward import (
    ASK_VEHICLE,
    ask_vehicle,
    go_on_with,
    is_work_first,
    just_made,
    onward,
    to_work,
)
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.screens.standing import standing
from fieldapp.theme import LARGE_TEXT
from fieldapp.walk import agenda
from fieldapp.walk.thread import is_service_call
from fieldapp.widgets import (
    Card,
    KeyButton,
    KeyRow,
    SceneView,
    SeverityBanner,
    Stack,
    VerdictTag,
    Words,
    theme,
)

_TAG_GAP_DP = 20  # inside the tag, and what keeps its word whole


class Status(Stack):
    """The verdict of the point so far, how far it is, its circuit's state: two lines on a phone."""

    def __init__(self, verdict: str, told: str, state: str, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        is_large = theme.text_scale >= LARGE_TEXT
        line = Stack(orientation="vertical" if is_large else "horizontal")
        line.add_widget(VerdictTag(verdict=verdict))
        count = Words(text=told, tone="ink_soft", pos_hint={} if is_large else {"center_y": 0.5})
        if not is_large:
            count.size_hint_x, count.width = None, text_width(told, theme.px["body"]) + dp(4)
            count.halign = "right"
        line.add_widget(count)
        self.add_widget(line)
        self.add_widget(Words(text=state, strong=True))


class PathScreen(Screen):
    """The one-line diagram of one charging point, and one key for what comes next.

    A flat window shows the whole path in columns; what is said of it moves into the header.
    """

    is_across = BooleanProperty(True)

    def __init__(self, guide: Guide) -> None:
        super().__init__(guide)
        self._tag: VerdictTag | None = None

    def up(self) -> None:
        """Close the visit; all of it is on disk."""
        self.guide.go("visits")

    def fill(self) -> None:
        """Show where the walk stands."""
        walk = self.walk
        done, total = walk.progress
        self.title = Said(walk.visit.site.name) or "Visit"
        self.subtitle = f"{walk.point.name} · {walk.visit.kind}"
        self.progress = done / total if total else 0.0
        summary = next(p for p in walk.assessment.points if p.point == walk.point_id)
        state_words = walk.state_words or "state not recorded yet"
        state = f"Circuit: {state_words}"
        if walk.is_signed:
            state = "Signed: this record is closed"
        told = f"{done} of {total} entered"
        stale = [s.row.check for s in walk.steps if s.is_stale]
        again = len(stale)
        repeat = f"{again} to repeat" if again else ""
        if again:
            state += f" · {repeat}"
        changed = self.guide.desk.trends(walk)
        is_large = theme.text_scale >= LARGE_TEXT
        is_low = self.is_flat and not is_large
        made = just_made(self.guide)
        first = standing(self.guide, "body")
        is_grave = any(isinstance(each, SeverityBanner) for each in first)
        self._tell(str(summary.verdict) if is_low else "")
        if is_grave:  # the stations need the room
            at = "signed" if walk.is_signed else walk.state_words or "state not recorded"
            self.subtitle = " · ".join(filter(None, (walk.point.name, at, told, repeat)))
        if is_low:
            self.subtitle = " · ".join((walk.point.name, state, told))
            body = [*first, *self._body(stale), *made, *_in_rows(self._more(changed))]
            self.put(body=body, actions=self._actions(changed))
        else:
            is_told = is_grave and not is_large  # a header has one line for it in large text
            status = [] if is_told else [Status(str(summary.verdict), told, state)]
            body = [*self._body(stale), *self._more(changed)]
            self.put(glance=[*first, *status, *made], body=body, actions=self._actions(changed))

    def _tell(self, verdict: str) -> None:
        """Put the verdict of the point into the header, or take it out."""
        if self._tag is not None:
            self.header.ids.line.remove_widget(self._tag)
            self._tag = None
        if verdict:
            width = theme.px["reading"] + dp(_TAG_GAP_DP) + text_width(verdict, theme.px["action"])
            self._tag = VerdictTag(verdict=verdict, size_hint_x=None, width=width)
            self.add_to_header(self._tag)

    def _body(self, stale: Sequence[str]) -> list[Widget]:
        walk = self.walk
        body: list[Widget] = []
        if not self.guide.shows_path_beside:
            card = Card(padding=0)
            view = SceneView(build=path_diagram(walk, is_folded=self.is_flat))
            view.bind(on_hit=lambda _, station: self._station(station))
            card.add_widget(view)
            body.append(card)
        if stale:
            body.append(Words(text=f"To repeat: {agenda.titles(stale)}.", strong=True))
        if walk.visit.is_invented:
            body.append(Words(text="Invented: people, place and readings are made up."))
        return body

    def _more(self, changed: Sequence[PointTrend]) -> list[KeyButton]:
        walk = self.walk
        count = len(walk.visit.points)
        keys = [key(f"Charging points: {count}", lambda: self.guide.go("points"))]
        if not walk.is_signed:
            keys.append(key("What is installed", lambda: self.guide.go("facts")))
        keys.append(key("Instruments", lambda: self.guide.go("kit", VISIT)))
        keys += self._next_beside()
        here = sum(t.point == walk.point_id for t in changed)
        if here:
            words = f"Since earlier visits: {here}"
            keys.append(key(words, lambda: self.guide.go("trends", walk.point_id)))
        earlier = self.guide.desk.reinspections(walk)
        if earlier:
            waiting = sum(r.is_open for r in earlier)
            words = f"Found earlier, to inspect again: {waiting}"
            keys.append(key(words, lambda: self.guide.go("earlier")))
        if walk.is_signed:
            return keys
        if walk.next_step is not None or any(s.is_grave for s in walk.severities):
            keys.append(key("Sign off now", lambda: self.guide.go("sign_off")))
        last = walk.last_recorded
        if last:
            keys.append(key(f"Undo: {last}", self._undo))
        return keys

    def _next_beside(self) -> list[KeyButton]:
        """Return the way on where the main key is another: after a danger, on a service call."""
        if is_service_call(self.walk) and self.walk.is_signed:
            return [key("Likely causes", lambda: self.guide.go("causes"))]
        walk = self.walk
        if self._is_vehicle_first:
            return []
        coming = (walk.asks_vehicle, walk.next_step, walk.next_point)
        is_more = any(coming)
        if is_service_call(walk) or (self._is_work_first and is_more):
            return [self._next_key(key)]
        return []

    def _actions(self, changed: Sequence[PointTrend]) -> list[KeyButton]:
        walk = self.walk
        coming = sum(t.severity is not None for t in changed)
        found = found_count(walk, coming)
        words = "No findings" if not found else f"{found} finding{'s' if found > 1 else ''}"
        keys = [key(words, lambda: self.guide.go("findings"), disabled=not found)]
        if walk.is_signed:
            keys.append(main_key("Signed report", lambda: self.guide.go("report")))
        elif walk.dangers_begun:
            keys.append(self._to_danger(walk.dangers_begun[0]))
        elif self._is_vehicle_first:
            keys.append(main_key(ASK_VEHICLE, partial(ask_vehicle, self.guide)))
        elif is_service_call(walk):
            keys.append(main_key("Likely causes", lambda: self.guide.go("causes")))
        else:
            keys.append(to_work(self.guide) if self._is_work_first else self._next_key(main_key))
        return keys

    def _to_danger(self, begun: Entry) -> KeyButton:
        """Return the key to a check that was left after a danger was answered in it.

        Nobody is led back by the strongest key to what cannot be switched off.
        """
        go_on = partial(go_on_with, self.guide, begun)
        is_on = self.walk.stays_on or begun.danger is DangerAnswer.STAYS_ON
        return (key if is_on else main_key)(f"Go on: {BY_ID[begun.check].title}", go_on)

    @property
    def _is_work_first(self) -> bool:
        return not self.walk.is_signed and is_work_first(self.walk, self.walk.severities)

    @property
    def _is_vehicle_first(self) -> bool:
        """Whether it is asked which vehicle is here; after a danger the mending comes before."""
        return bool(self.walk.asks_vehicle) and not self._is_work_first

    def _next_key(self, make: Callable[..., KeyButton]) -> KeyButton:
        """Make the key for what the walk asks next, along the path."""
        walk = self.walk
        open_check = walk.questions
        if open_check is not None and open_check.is_begun and self._is_open(open_check.check.id):
            title = f"Go on: {open_check.check.title}"
            return make(title, lambda: self.guide.go("check", open_check.check.id))
        return onward(self.guide, lambda title: f"Next: {title}", make)

    def _is_open(self, check: str) -> bool:
        return any(s.row.check == check and not s.shut_because for s in self.walk.steps)

    @guarded
    def _station(self, station: str) -> None:
        self.guide.go("station", station)

    def _undo(self) -> None:
        if self.walk.undo_ends_load:
            load_back(guarded(lambda: self._taken_back(has_ended=True)))
        else:
            self._taken_back()

    def _taken_back(self, *, has_ended: bool = False) -> None:
        self.walk.undo(has_ended=has_ended)
        self.guide.go("path")

    def room_changed(self) -> None:
        """Draw the path here, or leave it to what stands beside."""
        self.fill()


def _in_rows(keys: Sequence[KeyButton]) -> list[Widget]:
    """Put keys side by side, two a row."""
    rows: list[Widget] = []
    for at in range(0, len(keys), 2):
        row = KeyRow()
        for each in keys[at : at + 2]:
            row.add_widget(each)
        rows.append(row)
    return rows
