"""Why it trips, burns or does not charge: the likely causes, and what comes next."""

from collections.abc import Iterable
from functools import partial
from typing import Final

from kivy.uix.widget import Widget

from checks.causes import Ground, NextTest, RankedCause, Ranking, Status, Weight
from checks.check import CircuitState
from checks.path import subjects_at
from fieldapp.screens.along_call import along, is_vehicle_first, make
from fieldapp.screens.compared import compared
from fieldapp.screens.guide import Guide
from fieldapp.screens.onward import just_made
from fieldapp.screens.phrases import sentence
from fieldapp.screens.rows import StandingRow
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.screens.sheets import capital
from fieldapp.walk.agenda import titles
from fieldapp.walk.thread import REPAIR, Stage, Thread, thread
from fieldapp.widgets import Card, KeyButton, SeverityBanner, Words

_MOST: Final = 4  # causes that are told in full; the rest in one line
_LIKELY_PCT: Final = 20
_FOR: Final = {
    Weight.STRONG: "Strongly for it",
    Weight.CLEAR: "Clearly for it",
    Weight.SLIGHT: "Slightly for it",
}
_AGAINST: Final = {
    Weight.STRONG: "Strongly against it",
    Weight.CLEAR: "Clearly against it",
    Weight.SLIGHT: "Slightly against it",
}
_SEARCHED: Final = {
    Status.UNTOLD: "No symptom is recorded yet",
    Status.OPEN: "Not settled",
    Status.PROVEN: "Proven",
    Status.STUCK: "Not settled: what is left cannot be told apart here",
}


class CausesScreen(Screen):
    """The thread of a service call at one charging point."""

    def fill(self) -> None:
        """Show how far it is, what comes next, and the causes."""
        now = thread(self.walk)
        self.title, self.subtitle = "Likely causes", self.walk.point.name
        self.progress = (list(Stage).index(now.stage)) / (len(Stage) - 1)
        made = just_made(self.guide)
        self.put(glance=made, body=self._body(now), actions=self._actions(now))

    def _body(self, now: Thread) -> list[Widget]:
        ranking = now.ranking
        body: list[Widget] = [_standing(now)]
        body += [SeverityBanner(severity="danger", text=sentence(why)) for why in ranking.barred]
        here = subjects_at(self.walk.point).values()
        repeats = [r for r in self.walk.assessment.repeats if r.after.subject in here]
        body += [compared(r) for r in repeats]
        if ranking.status is Status.UNTOLD:
            return body
        if now.stage is Stage.TEST and ranking.next_test is not None:
            body.append(_test(ranking.next_test))
        body += [self._cause(c) for c in ranking.causes[:_MOST]]
        body.append(_rest(ranking))
        if now.stage is Stage.TEST and not self.walk.is_signed:
            body.append(key("Record a repair", partial(make, self.guide, REPAIR)))
        return body

    def _cause(self, cause: RankedCause) -> Card:
        card = Card()
        station = cause.station.value.capitalize()
        card.add_widget(Words(text=cause.title, role="lead", strong=True))
        card.add_widget(
            Words(text=f"{cause.standing.capitalize()} · {station} · {cause.severity}", strong=True)
        )
        card.add_widget(Words(text=sentence(cause.explanation)))
        for labels, grounds in ((_FOR, cause.speaks_for), (_AGAINST, cause.speaks_against)):
            for weight, label in labels.items():  # what says most comes first
                said = [_words(g) for g in grounds if g.weight is weight]
                if said:
                    card.add_widget(Words(text=f"{label}: {'; '.join(said)}."))
        if cause.standing == "proven":
            card.add_widget(Words(text="Remedy", strong=True))
            card.add_widget(Words(text=sentence(cause.remedy)))
        else:
            text = f"Settled by: {cause.settles_title.lower()}."
            card.add_widget(Words(text=text, tone="ink_soft"))
        return card

    # -- what comes next ---------------------------------------------------------------------------
    def _actions(self, now: Thread) -> list[KeyButton]:
        others = [self.path_key()]
        if self.walk.is_signed:
            return others
        if now.stage is Stage.DECIDE:
            return [*others, main_key("Sign off", lambda: self.guide.go("sign_off"))]
        if now.next is None and not is_vehicle_first(self.walk, None):
            return others
        return [*others, along(self.guide, now, now.next)]


def likely(guide: Guide, causes: Iterable[RankedCause]) -> list[StandingRow]:
    """Return a row for each cause that is not unlikely, which leads to all of them."""
    return [
        StandingRow(
            title=c.title,
            subtitle=f"{c.standing.capitalize()} cause",
            sign=str(c.severity),
            key="causes",
            chosen=guarded(guide.go),
        )
        for c in causes
        if c.standing != "unlikely"
    ]


def _standing(now: Thread) -> Card:
    card = Card()
    stage = list(Stage).index(now.stage) + 1
    ranking = now.ranking
    card.add_widget(Words(text=f"Step {stage} of {len(Stage)}: {now.stage}", tone="ink_soft"))
    card.add_widget(Words(text=_SEARCHED[ranking.status], role="title", strong=True))
    for line in _said(now):
        card.add_widget(Words(text=line))
    return card


def _said(now: Thread) -> list[str]:
    match now.stage:
        case Stage.TELL:
            return ["Begin with what happens, and when. Every other answer and reading counts too."]
        case Stage.TEST:
            return [] if now.next is not None else ["The next test cannot be reached from here."]
        case Stage.REPAIR if now.is_unproved:
            return ["Not proved dead: open nothing. Record what was made safe and left to others."]
        case Stage.REPAIR if now.ranking.status is Status.PROVEN:
            return ["Mend it, record what was done, then repeat the readings that showed it."]
        case Stage.REPAIR:
            return [
                "No test that may be made now tells more. Record what was done or left to others; "
                "what is not settled is said in the report."
            ]
        case Stage.REPEAT:
            left = titles(now.waiting)
            return [f"Still to be repeated: {left}.", "The first readings are kept."]
    if now.waiting:
        return [f"Not repeated: {titles(now.waiting)}.", "You decide; the report says so."]
    return ["You decide on the return to service. The lock is yours to take off."]


def _test(test: NextTest) -> Card:
    card = Card()
    card.add_widget(Words(text="Next best test", tone="ink_soft"))
    card.add_widget(Words(text=test.title, role="lead", strong=True))
    about = f"about {test.minutes} min"
    if test.state is not CircuitState.ANY:
        about = f"{test.state} · {about}"
    card.add_widget(Words(text=capital(about), strong=True))
    if test.first:
        card.add_widget(Words(text=f"First: {', '.join(test.first).lower()}."))
    meanings = [p.meaning.rsplit(",", 1)[0] for p in test.prospects]
    if len(set(meanings)) == 1:
        text = "Whatever it shows, the likeliest stays so; it tells how sure that is."
        card.add_widget(Words(text=text, tone="ink_soft"))
        return card
    for prospect, meaning in zip(test.prospects, meanings, strict=True):
        text = f"If: {prospect.words[:1].lower()}{prospect.words[1:]}. {meaning}."
        card.add_widget(Words(text=text, tone="ink_soft"))
    return card


def _rest(ranking: Ranking) -> Card:
    card = Card()
    card.add_widget(Words(text="And beside these", strong=True))
    others = [c.title.lower() for c in ranking.causes[_MOST:]]
    if others:
        card.add_widget(Words(text=f"Less likely: {', '.join(others)}."))
    if ranking.likeliest_two:
        pair = " and ".join(t[:1].lower() + t[1:] for t in ranking.likeliest_two)
        card.add_widget(Words(text=f"Two at once are possible: {pair}."))
    rest = "likely" if ranking.none_pct >= _LIKELY_PCT else "not ruled out"
    card.add_widget(Words(text=f"None of these: {rest}."))
    return card


def _words(ground: Ground) -> str:
    return f"{ground.words[:1].lower()}{ground.words[1:]}"
