"""A number: its limit in view before it is typed, its margin drawn while it is typed."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from kivy.core.window import Window
from kivy.metrics import dp
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from checks.check import Measurement, Rating, Series
from checks.quantity import Amount, amount
from checks.record import Instrument, Reading
from checks.verdict import Judgement, Limit, Verdict, decide
from fieldapp.language import decimal_mark
from fieldapp.screens.asking import Keeper
from fieldapp.screens.margins import (
    as_read,
    is_same,
    limits_asked,
    limits_of,
    limits_on,
    margin_gauge,
)
from fieldapp.screens.phrases import sentence
from fieldapp.screens.screen import key, load_kv
from fieldapp.screens.sheets import pick
from fieldapp.screens.trade_phrases import (
    kit_line,
    limit_line,
    limit_origin,
    limits_line,
    units_of,
)
from fieldapp.theme import LARGE_TEXT, is_flat
from fieldapp.walk.numbers import SIGN, kept, press
from fieldapp.walk.visit import Walk
from fieldapp.widgets import Card, KeyButton, NumberPad, ValueDisplay, Words, theme

_SIGN_DP, _UNIT_DP, _SHORT_DP, _CLOSE_DP = 76, 120, 900, 720

load_kv(__file__)


def _is_landscape() -> bool:
    return bool(Window.width > Window.height)


def _is_flat() -> bool:
    return is_flat(Window.width / dp(1), Window.height / dp(1))


def is_tight() -> bool:
    """Whether large text leaves only a few lines above the pad."""
    is_short = dp(_SHORT_DP) > Window.height > Window.width
    return theme.text_scale >= LARGE_TEXT and (is_short or _is_flat())


def is_close() -> bool:
    """Whether enlarged text leaves a header one line beside the pad on a small phone."""
    return is_tight() or (theme.text_scale > 1 and dp(_CLOSE_DP) > Window.height > Window.width)


class ToolRow(BoxLayout):
    """The unit and the instrument of a reading, each a key."""


class LimitCard(Card):
    """Limits as computed here, each with its force and where it comes from."""

    def __init__(self, limits: Sequence[Limit], **kwargs: Any) -> None:
        super().__init__(**kwargs)
        for limit in limits:
            self.add_widget(Words(text=limit_line(limit), role="lead", strong=True))
            self.add_widget(Words(text=limit_origin(limit), tone="ink_soft"))


@dataclass(frozen=True)
class Margin:
    """What the gauge shows: a value once there is one, its verdict, and its limits."""

    value: Amount | None
    verdict: Verdict
    limits: Sequence[Limit]


class NumberQuestion:
    """The widgets of one measured or read-off number, and what stands in them.

    Parameters
    ----------
    walk : Walk
        Its open check asks a number now.
    is_customary : bool
        Feet and degrees Fahrenheit are offered first.
    changed : callable
        Called when the number, its unit or its instrument changed.
    """

    def __init__(self, walk: Walk, *, is_customary: bool, changed: Callable[[], None]) -> None:
        questions = walk.open_questions
        asked = questions.current
        assert isinstance(asked, Measurement | Rating)
        self._walk, self._changed, self.asked = walk, changed, asked
        self.fit = walk.instruments_for(asked)
        before = questions.entry.answer(asked.name)
        told = before if isinstance(before, Reading) else None
        typed = questions.typed
        self.units = units_of(asked, is_customary=is_customary)
        self.unit = typed.get(f"{asked.name} unit") or (told.unit if told else self.units[0])
        named = typed.get(f"{asked.name} instrument") or (told.instrument if told else "")
        ids = [i.id for i in self.fit]
        self.instrument = named if named in ids else ids[0] if ids else ""
        self.keeper = Keeper(self._keep)
        text = typed.get(asked.name) or (told.value if told else "")
        self._is_signed = isinstance(asked, Measurement) and asked.signed
        mark = decimal_mark()
        self.pad = NumberPad(partial(press, signed=self._is_signed), text=text, mark=mark)
        self.display = ValueDisplay(mark=mark, is_tight=is_close())
        # stands with the number, or on the page where large text leaves no room there
        self.missing = Words(strong=True)
        self.beside: tuple[Widget, ...] = ()  # keys for which the dock has no room
        self._unit_key = key("", self._pick_unit)
        self._tool_key = key("", self._pick_instrument, role="body")
        self._sign_key = key("±", self._turn_sign, size_hint_x=None, width=dp(_SIGN_DP))
        self.pad.bind(text=self._typed)
        self._show()

    @property
    def is_offered(self) -> bool:
        """Whether the kit has what it needs."""
        asked = self.asked
        return bool(self.fit) or not (isinstance(asked, Measurement) and asked.instruments)

    @property
    def place(self) -> str:
        """Where to hold the probe."""
        return self.asked.access_point if isinstance(self.asked, Measurement) else ""

    @property
    def tells_place(self) -> bool:
        """Whether the display says where to hold the probe: it has no limits of its own to show."""
        return not (limits_asked(self.judgement, self.asked) or isinstance(self.asked, Series))

    @property
    def value(self) -> str:
        """The decimal text that would go into the record; empty when it is no number."""
        return kept(self.pad.text)

    @property
    def limits(self) -> Sequence[Limit]:
        """What the number is held against; where it is only reckoned with, what its check is."""
        return limits_on(self.judgement, self.asked) or self.judgement.limits

    def widgets(self) -> tuple[tuple[Widget, ...], tuple[Widget, ...]]:
        """Return the display, and what goes into the dock.

        Where large text leaves a few lines, unit and instrument go to what scrolls, so that limit
        and margin stay in view; a sign is typed, and stays at hand beside the number.
        """
        tight, is_across = is_tight(), _is_landscape() and theme.text_scale >= LARGE_TEXT
        keys = self._keys()
        if self._is_signed and tight and not is_across:
            keys.remove(self._sign_key)
            self.display.put_beside(self._sign_key)
        if not keys:
            return (self.display,), (self.pad,)
        row = ToolRow()
        for each in keys:
            row.add_widget(each)
        if is_across:  # pad and keys alone fill the height
            return (self.display, row), (self.pad,)
        if tight:
            self.beside = (row,)
            return (self.display,), (self.pad,)
        return (self.display,), (row, self.pad)

    def _keys(self) -> list[KeyButton]:
        """Return the keys that a number of this kind needs beside its digits."""
        keys = []
        if len(self.units) > 1:
            if len(self.fit) > 1:  # the instrument's name needs the room
                width = _SIGN_DP if self._is_signed else _UNIT_DP
                self._unit_key.size_hint_x, self._unit_key.width = None, dp(width)
            keys.append(self._unit_key)
        if self._is_signed:
            keys.append(self._sign_key)  # here and not on the pad: a flat window has no room
        if len(self.fit) > 1:
            keys.append(self._tool_key)
        return keys

    def tool(self) -> Instrument | None:
        """Return the instrument that is chosen."""
        return next((i for i in self.fit if i.id == self.instrument), None)

    def _typed(self, *_: Any) -> None:
        self.keeper.typed(self.pad.text)
        self._show()

    def _show(self) -> None:
        value = self.value
        judged = self._walk.preview(value, self.unit, self.instrument)
        self.judgement = judged
        self.display.text, self.display.unit = self.pad.text, self.unit
        margin = self._margin(value, judged)
        self.display.verdict = str(margin.verdict)
        self.display.figure = margin_gauge(
            margin.value,
            margin.verdict,
            margin.limits,
            theme.text_scale,
            is_computed=margin.value is not None and margin.value.unit != self.unit,
        )
        is_missing = bool(value) and margin.verdict is Verdict.NOT_MEASURED
        missing = sentence(judged.explanation) if is_missing else ""
        told = self._told(margin, judged)
        if isinstance(self.asked, Series) and is_close() and not is_tight():
            told = missing = ""  # the curve beside it says so
        elif theme.text_scale < LARGE_TEXT:
            told, missing = "\n".join(_once(told, missing)), ""
        elif is_tight():  # the value and its gauge stay, the words go to the page
            told, missing = "", "\n".join(_once(told, missing))
        self.display.title, self.missing.text = told, missing
        is_narrow = self._is_signed and len(self.fit) > 1
        self._unit_key.text = self.unit if is_narrow else f"Unit: {self.unit}"
        tool = self.tool()
        named = tool.name if tool else ""
        self._tool_key.text = "Instrument" if theme.text_scale >= LARGE_TEXT else named
        self._changed()

    def _margin(self, text: str, judged: Judgement) -> "Margin":
        """Hold the number against its own limits, else what is computed from it against its."""
        if isinstance(self.asked, Series):  # its limits are of the end, not of one reading
            return Margin(None, judged.verdict, [])
        own = limits_asked(judged, self.asked)
        if not text:
            return Margin(None, Verdict.NOT_MEASURED, own)
        value = as_read(self.asked, text, self.unit, self.tool())
        if own:
            return Margin(amount(value, self.unit), decide(value, own), own)
        is_other = judged.measured is not None and judged.measured.unit != self.unit
        if is_other or is_same(judged.measured, value):
            return Margin(judged.measured, judged.verdict, limits_of(judged))
        return Margin(None, judged.verdict, [])

    def _told(self, margin: "Margin", judged: Judgement) -> str:
        """Say what the gauge cannot: a computed value, or limits that are not of one thing."""
        lines = []
        if isinstance(self.asked, Series):
            lines.append("" if judged.heating is None else sentence(judged.heating.says))
        elif margin.value is not None and margin.value.unit != self.unit:
            of = sentence(margin.value.of).rstrip(".") or "Computed"
            lines.append(f"{of}: {margin.value}")
        elif not margin.limits:
            lines.append(sentence(self.place) or limits_line(judged.limits))
        tool = self.tool()
        if tool is not None and len(self.fit) == 1:
            lines.append(f"With the {tool.name[:1].lower()}{tool.name[1:]}")
        return "\n".join(line for line in lines if line)

    def _keep(self, text: str) -> None:
        self._walk.typing(text, unit=self.unit, instrument=self.instrument)

    def _turn_sign(self) -> None:
        self.pad.key(SIGN)

    def _pick_unit(self) -> None:
        pick("Unit", [(u, u, "") for u in self.units], self.unit, self._take_unit)

    def _take_unit(self, unit: str) -> None:
        self.unit = unit
        self._typed()

    def _pick_instrument(self) -> None:
        options = [(i.id, i.name, kit_line(i)) for i in self.fit]
        pick("Measured with", options, self.instrument, self._take_instrument)

    def _take_instrument(self, instrument: str) -> None:
        self.instrument = instrument
        self._typed()


def _once(*said: str) -> list[str]:
    """Return what is said, without what was said already: a series says why it is open itself."""
    return [*dict.fromkeys(filter(None, said))]
