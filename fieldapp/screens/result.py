"""What a check says: the verdict large, why, and what to do."""

from functools import partial
from typing import Any

from kivy.clock import Clock
from kivy.properties import ObjectProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from checks.assess import Row
from checks.record import Entry
from checks.verdict import Judgement, Severity, Verdict, margin_words
from fieldapp.figures.marks import color_of, verdict_mark
from fieldapp.figures.staircase import stairs
from fieldapp.language import Said
from fieldapp.screens.along_call import along
from fieldapp.screens.causes import likely
from fieldapp.screens.compared import compared
from fieldapp.screens.curve import curve
from fieldapp.screens.earlier import found_before
from fieldapp.screens.evidence import tiles, with_photos
from fieldapp.screens.findings import where
from fieldapp.screens.guide import Guide
from fieldapp.screens.interruptions import first_of_all
from fieldapp.screens.margins import limits_of, margin_gauge
from fieldapp.screens.number import LimitCard
from fieldapp.screens.onward import is_work_first, onward, to_work
from fieldapp.screens.phrases import sentence
from fieldapp.screens.rows import StandingRow
from fieldapp.screens.screen import Screen, key, load_kv, main_key
from fieldapp.screens.trade_phrases import limit_origin
from fieldapp.walk.evidence import photos_key
from fieldapp.walk.thread import Stage, is_service_call, ranking_of, thread
from fieldapp.widgets import Card, KeyButton, SceneView, SeverityBanner, Words, theme
from fieldapp.widgets.scrolling import spare

load_kv(__file__)

_GROWN_S = 0.2  # the layout is settled by then

DEFERENCE = (
    "The local code, the authority having jurisdiction, the listing, the maker's instructions and "
    "licensed practice decide."
)


class BigVerdict(BoxLayout):
    """The verdict's shape and word, large."""

    verdict = StringProperty("not measured")
    mark = ObjectProperty(None, allownone=True)
    tone = StringProperty("not_measured")

    def __init__(self, verdict: Verdict, **kwargs: Any) -> None:
        word = str(verdict)
        super().__init__(verdict=word, mark=verdict_mark(word), tone=color_of(word), **kwargs)


class ResultScreen(Screen):
    """``of`` is the check and its subject, ``check@subject``."""

    is_at_station = True

    def __init__(self, guide: Guide) -> None:
        super().__init__(guide)
        self._unfolded = ""  # the check whose working is shown

    def up(self) -> None:
        """Go to the station."""
        self.guide.go("station", self.station or "")

    @property
    def _row(self) -> Row:
        check, subject = self.of.split("@", 1)
        return self.walk.assessment.row(check, subject)

    def enter(self, of: str) -> None:
        """Come up at the charging point that the result belongs to."""
        walk = self.walk
        point = walk.point_at(of.split("@", 1)[1])
        if point != walk.point_id:
            walk.go_to_point(point)
        self._unfolded = ""
        super().enter(of)

    def fill(self) -> None:
        """Show the judgement."""
        row = self._row
        self.title = row.title
        self.subtitle = where(self.walk, row.station, row.subject)
        done, total = self.walk.progress
        self.progress = done / total if total else 0.0
        judged = row.judgement
        glance: list[Widget] = [self._verdict(judged)]
        if judged.severity is not None and judged.severity.is_grave:
            glance.insert(0, self._banner(judged, judged.severity))
        self.put(body=self._body(row), glance=glance, actions=self._keys(row))

    def _verdict(self, judged: Judgement) -> Card:
        """Return the verdict with what was measured and its margin."""
        card = Card()
        card.add_widget(BigVerdict(judged.verdict))
        if judged.measured is not None:
            card.add_widget(Words(text=str(judged.measured), role="reading", strong=True))
        figure = margin_gauge(judged.measured, judged.verdict, limits_of(judged), theme.text_scale)
        if figure is not None:
            card.add_widget(SceneView(build=figure))
        if judged.margin is not None:
            card.add_widget(Words(text=margin_words(judged.margin), strong=True))
        return card

    def _body(self, row: Row) -> list[Widget]:
        judged = row.judgement
        said = self._explained(judged)
        here = row.check, row.subject
        repeats = self.walk.assessment.repeats
        body: list[Widget] = [
            *(compared(r) for r in repeats if (r.after.check, r.after.subject) == here),
            *(
                found_before(r)
                for r in self.guide.desk.reinspections(self.walk)
                if (r.check, r.subject) == here
            ),
            *said[:1],
            *self._likeliest(row),
            *said[1:],
            *self._again(row, is_finding=True),
            *_figures(judged),
            *curve(judged),
        ]
        if judged.limits:
            body.append(LimitCard(judged.limits))
        body += _told("What would settle it", judged.settles)
        body += self._working(judged)
        return [*body, *self._evidence(row), *self._again(row, is_finding=False)]

    def _likeliest(self, row: Row) -> list[StandingRow]:
        """Return what a call makes of it so far, which leads to all of its causes."""
        walk = self.walk
        if not is_service_call(walk) or walk.is_signed or row.entry is None:
            return []
        return likely(self.guide, ranking_of(walk).causes[:1])

    def _explained(self, judged: Judgement) -> list[Widget]:
        """Return what is so and what to do; what is grave stands above the verdict already."""
        if judged.severity is None:
            return [Words(text=sentence(judged.explanation), role="lead")]
        is_grave = judged.severity.is_grave
        found: list[Widget] = [] if is_grave else [self._banner(judged, judged.severity)]
        opens = self.walk.visit.role.opens
        to_do = "What to do" if opens else "To be done by who may open and switch here"
        found += _told(to_do, sentence(judged.remedy))
        found += _told("Why it matters", sentence(judged.why))
        if judged.severity is Severity.DANGER:
            found.append(Words(text=DEFERENCE, tone="ink_soft"))
        return found

    def _banner(self, judged: Judgement, severity: Severity) -> SeverityBanner:
        """Return what is wrong; at a danger what to do at once comes first."""
        do = first_of_all(self.walk) if severity is Severity.DANGER else ""
        return SeverityBanner(severity=str(severity), text=sentence(judged.explanation), do=do)

    def _evidence(self, row: Row) -> list[Widget]:
        """Return notes and photos: of what is judged, and of what left the check out later."""
        made = [e for e in self.walk.visit.entries if e.number in (row.judged, row.entry)]
        body: list[Widget] = []
        for entry in made:
            body += _told("Note", Said(entry.note))
            if entry.photos:
                show = partial(self._photos, entry)
                body.append(tiles(self.guide, entry.photos, show))
        if made and not self.walk.is_signed:
            last = made[-1]
            words = "Change the note" if last.note else "Write a note"
            body.append(key(words, lambda: self._note(last)))
        return body

    def _working(self, judged: Judgement) -> list[Widget]:
        """Return sources and working; behind a key until they are asked for."""
        cards = [
            *_told("Where this comes from", "\n".join(_sources(judged))),
            *_told("How it was worked out", "\n".join(_working(judged))),
        ]
        if not cards or self.of == self._unfolded:
            return cards
        return [key("Show how it was worked out", self._unfold)]

    def _unfold(self) -> None:
        """Show sources and working below what stands there already, which stays in its place."""
        area, page = self.scroll, self.scroll.children[0]
        above_px = (1 - area.scroll_y) * spare(area)

        def stay(*_: Any) -> None:
            area.scroll_y = min(1.0, max(0.0, 1 - above_px / max(1.0, spare(area))))

        page.fbind("height", stay)  # it grows with each round of the layout
        Clock.schedule_once(lambda _: page.funbind("height", stay), _GROWN_S)
        self._unfolded = self.of
        self.fill()

    def _note(self, entry: Entry) -> None:
        self.guide.go("note", photos_key(entry, is_made=True))

    def _photos(self, entry: Entry, name: str) -> None:
        self.guide.go("photos", f"{photos_key(entry, is_made=True)}/{name}")

    def _entry(self, row: Row) -> Entry | None:
        return next((e for e in self.walk.visit.entries if e.number == row.entry), None)

    def _again(self, row: Row, *, is_finding: bool) -> list[KeyButton]:
        """Return the keys that make it again; with a finding they follow what to do about it."""
        walk = self.walk
        found = row.judgement.verdict in (Verdict.OUTSIDE, Verdict.BORDERLINE)
        if walk.is_signed or is_finding is not found:
            return []
        if row.entry is None:
            return [key("Make this check", lambda: self._begin(row))]
        keys = []
        if is_finding:
            keys.append(key("Mended since: measure again", lambda: self._begin(row, mended=True)))
        words = "Read wrongly: measure again" if is_finding else "Measure again"
        keys.append(key(words, lambda: self._begin(row)))
        if walk.undoes(row.entry):
            entry = self._entry(row)
            left_out = entry is not None and entry.not_done is not None
            words = "Undo: not left out" if left_out else "Undo: change the answers"
            keys.append(key(words, self._undo))
        return keys

    def _begin(self, row: Row, *, mended: bool = False) -> None:
        self.walk.begin(row.check, after_mending=mended)
        self.guide.go("check", row.check)

    def _undo(self) -> None:
        check = self._row.check
        self.walk.undo()
        if self.walk.questions is not None:
            self.guide.go("check", check)
        else:
            self.up()

    def _keys(self, row: Row) -> list[Widget]:
        """Return the ways on; the way to the photos stands under the thumb."""
        keys, entry = self._onward(row), self._entry(row)
        if entry is None or self.walk.is_signed:
            return [*keys]
        of, count = photos_key(entry, is_made=True), len(entry.photos)
        return [*keys[:-1], with_photos(keys[-1], self.guide, of, count)]

    def _along_call(self, row: Row) -> KeyButton:
        """Return the key to what the call goes on with, or to its causes once there is news.

        News is a danger, and a cause that is proven or can't be settled.
        """
        now = thread(self.walk)
        is_under_way = now.stage in (Stage.TEST, Stage.REPEAT)
        if not is_under_way or now.next is None or row.judgement.severity is Severity.DANGER:
            return main_key("Likely causes", lambda: self.guide.go("causes"))
        return along(self.guide, now, now.next)

    def _onward(self, row: Row) -> list[KeyButton]:
        walk = self.walk
        to_path = self.path_key()
        if walk.is_signed or row.entry is None:
            return [to_path]
        if is_service_call(walk):
            return [to_path, self._along_call(row)]
        if is_work_first(walk, filter(None, [row.judgement.severity])):
            return [to_path, to_work(self.guide)]
        return [to_path, onward(self.guide, lambda _: "Next check")]


def _figures(judged: Judgement) -> list[Widget]:
    """Return the voltage staircase, where volts were read at more than one place."""
    if len(judged.steps) < 2:  # noqa: PLR2004 - one step is no stair
        return []
    card = Card()
    card.add_widget(Words(text="Where the volts go", strong=True))
    card.add_widget(SceneView(build=lambda w: stairs(judged.steps, w, text_scale=theme.text_scale)))
    return [card]


def _told(title: str, text: str) -> list[Widget]:
    if not text:
        return []
    card = Card()
    card.add_widget(Words(text=title, strong=True))
    card.add_widget(Words(text=text))
    return [card]


def _sources(judged: Judgement) -> list[str]:
    told = {limit_origin(limit) for limit in judged.limits}
    return [str(s) for s in judged.sources if not any(str(s) in line for line in told)]


def _working(judged: Judgement) -> list[str]:
    lines = [line for limit in judged.limits for line in limit.working]
    return list(dict.fromkeys((*judged.working, *lines)))
