"""What a figure is made of: a few shapes with color tokens, drawn by a widget or on a page.

A scene is measured in its own units, origin at the top left, y downward. A renderer scales it
uniformly into the box it has. On screen one unit is one dp. Colors are token names of the theme.
"""

import re
from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from math import ceil, hypot
from typing import Final, Literal, NamedTuple
from unicodedata import normalize

from checks.units import UNITS
from fieldapp.language import Said, say

Point = tuple[float, float]
TEXT: Final = 16.0  # size of the words of a figure, before the user's factor
LEADING: Final = 1.3  # height of a line of text, of its size
Anchor = Literal["start", "middle", "end"]
Weight = Literal["regular", "semibold"]


class Line(NamedTuple):
    """A straight stroke with round ends."""

    start: Point
    end: Point
    width: float
    color: str


class Polyline(NamedTuple):
    """Joined strokes with round ends and joints."""

    points: tuple[Point, ...]
    width: float
    color: str
    closed: bool = False


class Polygon(NamedTuple):
    """A filled convex polygon."""

    points: tuple[Point, ...]
    fill: str


class Circle(NamedTuple):
    """A circle, filled, stroked or both."""

    center: Point
    radius: float
    fill: str | None = None
    stroke: str | None = None
    width: float = 0.0


class Rect(NamedTuple):
    """A rectangle from its top left corner, filled, stroked or both."""

    x: float
    y: float
    w: float
    h: float
    fill: str | None = None
    stroke: str | None = None
    width: float = 0.0


class Text(NamedTuple):
    """One line of text, its vertical middle at ``at``; ``size`` is the font size in units."""

    at: Point
    text: str
    size: float
    color: str
    anchor: Anchor = "start"
    weight: Weight = "regular"


Item = Line | Polyline | Polygon | Circle | Rect | Text


class Hit(NamedTuple):
    """A box that answers a touch, and the key it stands for."""

    key: str
    x: float
    y: float
    w: float
    h: float

    def holds(self, point: Point) -> bool:
        """Whether the point lies in the box."""
        return self.x <= point[0] < self.x + self.w and self.y <= point[1] < self.y + self.h


class Scene(NamedTuple):
    """A figure: its size in units, its items from back to front, its touchable boxes."""

    width: float
    height: float
    items: tuple[Item, ...]
    hits: tuple[Hit, ...] = ()


def placed(items: Iterable[Item], dx: float, dy: float, scale: float = 1.0) -> list[Item]:
    """Items scaled about their origin, then moved."""

    def move(point: Point) -> Point:
        return point[0] * scale + dx, point[1] * scale + dy

    return [_place(item, move, scale) for item in items]


def _place(item: Item, move: Callable[[Point], Point], scale: float) -> Item:
    match item:
        case Line():
            return item._replace(
                start=move(item.start), end=move(item.end), width=item.width * scale
            )
        case Polyline():
            points = tuple(move(p) for p in item.points)
            return item._replace(points=points, width=item.width * scale)
        case Polygon():
            return item._replace(points=tuple(move(p) for p in item.points))
        case Circle():
            return item._replace(
                center=move(item.center),
                radius=item.radius * scale,
                width=item.width * scale,
            )
        case Rect():
            x, y = move((item.x, item.y))
            return item._replace(
                x=x, y=y, w=item.w * scale, h=item.h * scale, width=item.width * scale
            )
        case Text():
            return item._replace(at=move(item.at), size=item.size * scale)


def transposed(items: Sequence[Item]) -> list[Item]:
    """Items with x and y exchanged: a vertical drawing laid on its side."""
    turned: list[Item] = []
    for item in items:
        match item:
            case Line():
                turned.append(item._replace(start=item.start[::-1], end=item.end[::-1]))
            case Polyline() | Polygon():
                turned.append(item._replace(points=tuple((y, x) for x, y in item.points)))
            case Circle():
                turned.append(item._replace(center=item.center[::-1]))
            case Rect():
                turned.append(item._replace(x=item.y, y=item.x, w=item.h, h=item.w))
            case Text():
                turned.append(item._replace(at=item.at[::-1]))
    return turned


def dashed(start: Point, end: Point, width: float, color: str, dash: float = 6.0) -> list[Item]:
    """Dashes of equal length along a line, starting and ending with one."""
    length = hypot(end[0] - start[0], end[1] - start[1])
    count = max(1, ceil(length / (2 * dash)))
    step = length / (2 * count - 1) if length else 0.0

    def at(distance: float) -> Point:
        share = distance / length if length else 0.0
        return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share

    return [Line(at(2 * i * step), at((2 * i + 1) * step), width, color) for i in range(count)]


# Advance widths of IBM Plex Sans SemiBold, the widest weight used, from space to tilde. [1/1000 em]
NO_BREAK: Final = "\N{NO-BREAK SPACE}"
_ADVANCE = (
    (236, 309, 471, 656, 600, 960, 713, 260, 337, 337, 556, 600, 299, 402, 299, 437)
    + (600,) * 10
    + (319, 319, 600, 600, 600, 493, 899)
    + (672, 663, 642, 689, 600, 577, 712, 719, 423, 545, 678, 521, 817)
    + (719, 712, 641, 712, 664, 611, 580, 689, 638, 949, 655, 632, 599)
    + (329, 437, 329, 600, 559, 600)
    + (559, 600, 513, 600, 558, 350, 545, 588, 275, 275, 562, 294, 888)
    + (588, 563, 600, 600, 393, 499, 374, 588, 524, 819, 544, 524, 502)
    + (363, 376, 363, 600)
)
_OTHER_ADVANCE = 910  # signs outside ASCII: œ is as wide, an arrow 876, Ω 715


class _Widths(dict[str, int]):
    """By sign; a list of ten thousand rows asks for each of its letters."""

    def __missing__(self, sign: str) -> int:
        letter = normalize("NFD", sign)[0]  # an accent makes no letter wider
        return self[letter] if letter != sign else _OTHER_ADVANCE


_WIDTH_OF = _Widths(
    [*((chr(ord(" ") + i), w) for i, w in enumerate(_ADVANCE)), (NO_BREAK, _ADVANCE[0])]
).__getitem__
_SPACE: Final = _ADVANCE[0]
_UNITS: Final = "|".join(re.escape(u) for u in (*sorted(UNITS, key=len, reverse=True), "AWG"))
_UNBROKEN: Final = re.compile(rf"(?<=\d) (?=(?:{_UNITS})(?!\w))| (?=[±·] )|(?<=±) ")
_GLUED: Final = re.compile(rf"[^ \n]*{NO_BREAK}[^ \n]*")
_ROUNDING: Final = 1e-6  # a text that fills its width to the last fits


def text_width(text: str, size: float) -> float:
    """Width a text takes at most, in the units of ``size``."""
    return _advance(say(text)) * size / 1000


@lru_cache(maxsize=4096)
def _advance(text: str) -> int:
    return sum(map(_WIDTH_OF, text))


@lru_cache(maxsize=4096)
def glued(text: str) -> str:
    """Return a text that is said, with a no-break space wherever no line ends.

    That is between a number and its unit or its uncertainty, and before a dot between words.
    """
    return _UNBROKEN.sub(NO_BREAK, text)


def held(text: str, size: float, width: float) -> str:
    """Return a text glued, as far as what is glued fits a line: else its words are on their own."""

    def fitting(found: re.Match[str]) -> str:
        fits = _advance(found[0]) * size / 1000 <= width + _ROUNDING
        return found[0] if fits else found[0].replace(NO_BREAK, " ")

    return _GLUED.sub(fitting, glued(text))


def _words(text: str, size: float, width: float) -> list[str]:
    """Return what no line of a width breaks."""
    return [*filter(None, held(say(text), size, width).replace("\n", " ").split(" "))]


def line_count(text: str, size: float, width: float) -> int:
    """Return how many lines `wrapped` makes of a text; a long list asks it of each of its rows.

    Only where a line would end between what is held together are its words held: that is rare.
    """
    room = width * 1000 / size + _ROUNDING
    lines, used, before = 1, -_SPACE, ""
    for word in say(text).replace("\n", " ").split(" "):
        if not word:
            continue
        long = _advance(word)
        used += _SPACE + long
        if used > room:
            if long > room or (
                (before[-1].isdigit() or before[-1] == "±" or word[0] in "±·")
                and _UNBROKEN.search(f"{before} {word} ")
            ):
                return len(wrapped(text, size, width))
            lines, used = lines + 1, long
        before = word
    return lines


def wrapped(text: str, size: float, width: float) -> Sequence[str]:
    """Break the text into lines no wider than ``width``; a word that is wider alone is broken."""
    room = width * 1000 / size + _ROUNDING
    lines: list[str] = []
    line, used = "", 0
    for word in _words(text, size, width):
        long = _advance(word)
        if long > room:
            *whole, word = _pieces(word, size, width)
            lines += [line, *whole] if line else whole
            line, used = word, _advance(word)
        elif line and used + _SPACE + long > room:
            lines.append(line)
            line, used = word, long
        else:
            used += _SPACE + long if line else long
            line = f"{line} {word}" if line else word
    return [Said(each.replace(NO_BREAK, " ")) for each in (*lines, line)]


def unbroken(text: str, size: float, width: float) -> float:
    """Size, no larger than asked, at which no word of the text is wider than ``width``."""
    longest = max((text_width(word, size) for word in say(text).split()), default=0.0)
    return size * min(1.0, max(width, 1.0) / longest) if longest else size


def cut(text: str, size: float, width: float, most: int) -> str:
    """Text on at most so many lines, an ellipsis where the rest of it was."""
    lines = wrapped(text, size, width)
    if len(lines) <= most:
        return text
    *whole, last = lines[:most]
    while last and text_width(Said(f"{last}…"), size) > width:
        last = last[:-1]
    return Said(" ".join((*whole, f"{last.rstrip()}…")))


def _pieces(word: str, size: float, width: float) -> list[str]:
    pieces = [""]
    for letter in word:
        if pieces[-1] and _advance(pieces[-1] + letter) * size / 1000 > width:
            pieces.append("")
        pieces[-1] += letter
    return pieces
