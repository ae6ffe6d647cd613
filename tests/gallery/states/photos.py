"""The photos of a check, drawn and said to be invented."""

from io import BytesIO

from PIL import Image, ImageDraw

from checks.record import Mark, MarkShape
from fieldapp.walk.desk import Desk
from fieldapp.walk.visit import Walk
from tests.gallery.states.check import choice, number
from tests.gallery.states.staging import after
from tests.gallery.walking import WRONG, make


def _photo(walk: Walk, key: str, tall: bool = False, turn: int = 0) -> str:
    """Draw an invented receptacle and attach it."""
    size = (1200, 1600) if tall else (1600, 1200)
    image = Image.new("RGB", size, "#7d8a84")
    draw = ImageDraw.Draw(image)
    x, y = size[0] // 2, size[1] // 2
    draw.rounded_rectangle((x - 400, y - 400, x + 400, y + 400), 60, "#e9e4d6", "#333333", 10)
    draw.ellipse((x - 260, y - 260, x + 260, y + 260), "#4c4740")
    for dx in (-130, 90):
        draw.rectangle((x + dx, y - 110, x + dx + 40, y + 110), "#b98b4f")
    draw.ellipse((x + 60 + turn, y - 150, x + 190 + turn, y - 10), "#2b1709")
    draw.text((x - 330, y + 300), "INVENTED", "#333333", font_size=70)
    out = BytesIO()
    image.save(out, "JPEG")
    taken = walk._store.add_photo(walk.visit.id, out.getvalue())
    walk.attach_photo(taken, key)
    return taken


@after(choice)
def photos_empty(desk: Desk) -> None:
    desk.ledger.go("photos", desk.ledger.position.visit, "outlet.configuration@c1")


@after(number)
def photos_empty_live(desk: Desk) -> None:
    """Measured where something is open: the warning comes first."""
    desk.ledger.go("photos", desk.ledger.position.visit, "run.insulation@c1")


@after(photos_empty)
def photos(desk: Desk) -> None:
    walk = desk.open(desk.ledger.position.visit)
    for turn in range(3):
        _photo(walk, desk.ledger.position.of, tall=turn == 1, turn=turn)


@after(photos)
def photos_marked(desk: Desk) -> None:
    walk, of = desk.open(desk.ledger.position.visit), desk.ledger.position.of
    first, second, _ = (p.name for p in walk.photos(of))
    spot = Mark(shape=MarkShape.CIRCLE, x=5800, y=3250, from_x=6800, from_y=3250)
    beside = Mark(shape=MarkShape.ARROW, x=3000, y=3250, from_x=1200, from_y=5200)
    walk.mark_photo(first, (spot, beside), of)
    head = Mark(shape=MarkShape.ARROW, x=6000, y=5900, from_x=8600, from_y=3600)
    walk.mark_photo(second, (head,), of)


@after(photos_marked)
def mark(desk: Desk) -> None:
    of = desk.ledger.position.of
    name = desk.open(desk.ledger.position.visit).photos(of)[0].name
    desk.ledger.go("mark", desk.ledger.position.visit, f"{of}/{name}")


@after(photos_marked)
def choice_photos(desk: Desk) -> None:
    desk.ledger.go("check", desk.ledger.position.visit, "outlet.configuration")


@after(photos_marked)
def result_photos(desk: Desk) -> None:
    walk = desk.open(desk.ledger.position.visit)
    make(walk, "outlet.configuration", WRONG)
    desk.ledger.go("result", walk.visit.id, "outlet.configuration@c1")
