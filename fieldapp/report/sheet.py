"""A sheet of paper: fonts, colors, wrapped text that flows over pages, and scenes."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from io import BytesIO
from typing import Any, Final

from fpdf import FPDF

from checks.written import with_minus_signs
from fieldapp import language
from fieldapp.figures.scene import Circle, Item, Line, Polygon, Polyline, Rect, Scene, Text, glued
from fieldapp.language import Said, say
from fieldapp.report.layout import BOTTOM, LEFT, PAGE, RIGHT, SPINE, TOP, WIDTH
from fieldapp.theme import FONT_FILES, PALETTES, asset, rgb

PALETTE: Final = {**PALETTES["day"], "surface": "#FFFFFF"}  # the page is the paper
_ROUND_FROM: Final = 1.6  # thinner strokes need no round ends [pt]
_BELOW_SECTION, _BELOW_HEADING = 5.0, 2.0  # [pt]
_MIDDLE: Final = 0.35  # from a line's middle down to its baseline, in em: half of the capitals


@dataclass(frozen=True)
class Style:
    """How a text looks: weight, size and distance of lines, in points."""

    weight: str = "regular"
    size: float = 9.5
    leading: float = 12.5


BODY: Final = Style()
STRONG: Final = Style("semibold")
SMALL: Final = Style(size=9.0, leading=11.0)
LEAD: Final = Style("semibold", 11.0, 14.0)
SECTION: Final = Style("semibold", 15.0, 20.0)
TITLE: Final = Style("semibold", 25.0, 30.0)


@dataclass(frozen=True)
class Para:
    """A paragraph with an optional label in a column of its own."""

    text: str
    label: str = ""
    style: Style = BODY
    color: str = "ink"
    before: float = 0.0


class Sheet:
    """Pages that are filled from top to bottom.

    Parameters
    ----------
    at : datetime
        The document's date; nothing else on it knows a clock.
    """

    def __init__(self, at: datetime) -> None:
        self.pdf = FPDF(unit="pt", format="letter", enforce_compliance="PDF/A-3B")
        self.pdf.set_auto_page_break(False)
        self.pdf.set_margin(0)
        self.pdf.set_creation_date(at)
        self.pdf.set_lang(language.tag())
        for weight, file in FONT_FILES.items():
            self.pdf.add_font(f"page{weight}", "", str(asset(file)))
        self._fonts = {weight: self.pdf.fonts[f"page{weight}"] for weight in FONT_FILES}
        self.clean = lru_cache(maxsize=4096)(self._clean)
        self.y = TOP
        self.head: Callable[[], None] | None = None  # what a new page goes on with
        self.add_page()

    def close(self) -> None:
        """Close the font files, which the library leaves open."""
        for font in self._fonts.values():
            font.ttfont.close()

    # -- pages ---------------------------------------------------------------------------------
    def add_page(self) -> None:
        """Begin a new page with the conductor that runs down its left edge."""
        self.pdf.add_page()
        self.top = TOP
        self.stroke(((SPINE, 0), (SPINE, PAGE[1])), 2.0, "accent")
        self.y = TOP
        if self.head is not None:
            self.head()
            self.top = self.y

    def need(self, height: float) -> None:
        """Begin a new page unless this much room is left."""
        if self.y + height > BOTTOM and self.y > self.top:
            self.add_page()

    def on_every_page(self, draw: Callable[[int, int], None]) -> None:
        """Draw on every page once their number is known."""
        count = self.pdf.pages_count
        for number in range(1, count + 1):
            self.pdf.page = number
            self._forget_pens()
            draw(number, count)
        self.pdf.page = count

    def _forget_pens(self) -> None:
        """Make the next color, width and font be written out: this page ended with others."""
        self.pdf.current_font_is_set_on_page = False
        self.pdf.set_line_width(9)
        self.pdf.set_draw_color(1, 2, 3)
        self.pdf.set_fill_color(1, 2, 3)

    # -- text ----------------------------------------------------------------------------------
    def width(self, text: str, style: Style = BODY) -> float:
        """Width of one line of text, in points."""
        return self._advance(say(text), style)

    def _advance(self, text: str, style: Style) -> float:
        advance = self._fonts[style.weight].cw
        return float(sum(advance[ord(c)] for c in self.clean(text))) * style.size / 1000

    def lines(self, text: str, width: float, style: Style = BODY) -> list[str]:
        """Break a text into lines that fit the width; a word that is wider alone is broken."""
        lines: list[str] = []
        for paragraph in say(text).split("\n"):
            line = ""
            for word in _words(paragraph):
                for piece in self._pieces(word, width, style):
                    longer = f"{line} {piece}" if line else piece
                    if line and self._advance(longer, style) > width:
                        lines.append(line)
                        line = piece
                    else:
                        line = longer
            lines.append(line)
        return [*map(Said, lines)]

    def put(
        self,
        x: float,
        baseline: float,
        text: str,
        style: Style = BODY,
        color: str = "ink",
        anchor: str = "start",
    ) -> None:
        """Set one line of text at a place."""
        words = Said(self.clean(say(text)))
        if anchor != "start":
            x -= self.width(words, style) * (1.0 if anchor == "end" else 0.5)
        self.pdf.set_font(f"page{style.weight}", "", style.size)
        self.pdf.set_text_color(*_rgb(color))
        self.pdf.text(x, baseline, words)

    def flow(
        self,
        text: str,
        style: Style = BODY,
        color: str = "ink",
        x: float = LEFT,
        width: float = WIDTH,
    ) -> None:
        """Set wrapped text from here on, over as many pages as it takes."""
        for line in self.lines(text, width, style):
            self.need(style.leading)
            self.y += style.leading
            self.put(x, self.y - style.leading * 0.25, line, style, color)

    def height(self, paras: Sequence[Para], width: float, label_width: float) -> float:
        """Height that paragraphs take, in points."""
        room = width - label_width
        return sum(
            p.before
            + p.style.leading
            * max(
                len(self.lines(p.text, room if p.label else width, p.style)),
                len(self.lines(p.label, label_width - 6, SMALL)) if p.label else 0,
            )
            for p in paras
        )

    def paras(
        self, paras: Sequence[Para], x: float = LEFT, width: float = WIDTH, label_width: float = 78
    ) -> None:
        """Set paragraphs, labels in their own column, over as many pages as they take."""
        for p in paras:
            self.y += p.before
            if not p.label:
                self.flow(p.text, p.style, p.color, x, width)
                continue
            labels = self.lines(p.label, label_width - 6, SMALL)
            texts = self.lines(p.text, width - label_width, p.style)
            for i in range(max(len(labels), len(texts))):
                self.need(p.style.leading)
                self.y += p.style.leading
                baseline = self.y - p.style.leading * 0.25
                if i < len(labels):
                    self.put(x, baseline, labels[i], SMALL, "ink_soft")
                if i < len(texts):
                    self.put(x + label_width, baseline, texts[i], p.style, p.color)

    def section(self, title: str, room: float = 72.0) -> None:
        """Begin a section: a node on the conductor, a title, an entry in the outline.

        It begins a new page unless ``room`` is left below the title, so that no title stands
        alone.
        """
        self.y += 16 if self.y > TOP else 0
        self.need(SECTION.leading + _BELOW_SECTION + room)
        self.pdf.set_y(self.y)
        self.pdf.start_section(self.clean(say(title)))
        self.y += SECTION.leading
        middle = self.y - SECTION.leading * 0.25 - SECTION.size * _MIDDLE
        self.disc((SPINE, middle), 5.5, "accent")
        self.disc((SPINE, middle), 2.6, "surface")
        self.put(LEFT, self.y - SECTION.leading * 0.25, title, SECTION)
        self.y += _BELOW_SECTION

    def heading(self, title: str, room: float = 60.0) -> None:
        """Set a heading below a section's, with room for what it heads."""
        self.y += 8 if self.y > self.top else 0
        self.need(LEAD.leading + _BELOW_HEADING + room)
        self.flow(title, LEAD, "accent")
        self.y += _BELOW_HEADING

    # -- shapes --------------------------------------------------------------------------------
    def rule(self, color: str = "line", width: float = 0.7) -> None:
        """Draw a thin line over the text's width."""
        self.stroke(((LEFT, self.y), (RIGHT, self.y)), width, color)

    def box(
        self, x: float, y: float, w: float, h: float, *, fill: str = "", edge: str = ""
    ) -> None:
        """Draw a rectangle."""
        self._rect(Rect(x, y, w, h, fill or None, edge or None, 0.9))

    def disc(self, center: tuple[float, float], radius: float, color: str) -> None:
        """Draw a filled circle."""
        self.pdf.set_fill_color(*_rgb(color))
        self.pdf.circle(center[0], center[1], radius, style="F")

    def stroke(
        self, points: Sequence[tuple[float, float]], width: float, color: str, closed: bool = False
    ) -> None:
        """Draw joined lines with round ends."""
        self.pdf.set_draw_color(*_rgb(color))
        self.pdf.set_line_width(width)
        if closed:
            self.pdf.polygon(list(points), style="D")
        else:
            self.pdf.polyline(list(points), style="D")
        if width > _ROUND_FROM:
            for point in points:
                self.disc(point, width / 2, color)

    def scene(self, scene: Scene, x: float, y: float, scale: float) -> None:
        """Draw a figure with its top left corner at a place."""
        for item in scene.items:
            self._item(item, x, y, scale)

    def picture(self, data: bytes, x: float, y: float, w: float, h: float) -> None:
        """Place a picture."""
        self.pdf.image(BytesIO(data), x, y, w, h)

    def _item(self, item: Item, dx: float, dy: float, k: float) -> None:
        def at(point: tuple[float, float]) -> tuple[float, float]:
            return dx + point[0] * k, dy + point[1] * k

        match item:
            case Line():
                self.stroke((at(item.start), at(item.end)), item.width * k, item.color)
            case Polyline():
                points = [at(p) for p in item.points]
                self.stroke(points, item.width * k, item.color, item.closed)
            case Polygon():
                self.pdf.set_fill_color(*_rgb(item.fill))
                self.pdf.polygon([at(p) for p in item.points], style="F")
            case Circle():
                self._circle(item, *at(item.center), k)
            case Rect():
                x, y = at((item.x, item.y))
                self._rect(
                    Rect(x, y, item.w * k, item.h * k, item.fill, item.stroke, item.width * k)
                )
            case Text():
                x, y = at(item.at)
                size = item.size * k
                style = Style(item.weight, size, size)
                self.put(x, y + size * _MIDDLE, item.text, style, item.color, item.anchor)

    def _circle(self, item: Circle, x: float, y: float, k: float) -> None:
        self._paint(item.fill, item.stroke, item.width * k)
        self.pdf.circle(x, y, item.radius * k, style=_how(item.fill, item.stroke))

    def _rect(self, item: Rect) -> None:
        self._paint(item.fill, item.stroke, item.width)
        self.pdf.rect(item.x, item.y, item.w, item.h, style=_how(item.fill, item.stroke))

    def _paint(self, fill: str | None, stroke: str | None, width: float) -> None:
        if fill:
            self.pdf.set_fill_color(*_rgb(fill))
        if stroke:
            self.pdf.set_draw_color(*_rgb(stroke))
            self.pdf.set_line_width(width)

    # -- letters -------------------------------------------------------------------------------
    def _clean(self, text: str) -> str:
        """Write the code of a sign the typeface lacks: PDF/A forbids an empty box in its place."""
        known = self._fonts["regular"].cmap
        return "".join(
            " " if c.isspace() else c if ord(c) in known else f"[U+{ord(c):04X}]"
            for c in with_minus_signs(text)
        )

    def _pieces(self, word: str, width: float, style: Style) -> list[str]:
        if self._advance(word, style) <= width:
            return [word]
        pieces = [""]
        for letter in self.clean(word):
            if pieces[-1] and self._advance(pieces[-1] + letter, style) > width:
                pieces.append("")
            pieces[-1] += letter
        return pieces


def _words(paragraph: str) -> list[str]:
    """Split at spaces, but not where they hold together what is read as one."""
    return [word for word in re.split(r"[^\S\N{NO-BREAK SPACE}]+", glued(paragraph)) if word]


def _rgb(token: str) -> tuple[int, ...]:
    return tuple(round(255 * c) for c in rgb(PALETTE[token]))


def _how(fill: Any, stroke: Any) -> str:
    return ("F" if fill else "") + ("D" if stroke else "")
