"""Photos on the page: made small, checked against the hash that the record names."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from hashlib import sha256
from io import BytesIO
from typing import Final

from PIL import Image, ImageOps

from checks.errors import ChecksError
from checks.record import Entry, Photo
from fieldapp.figures.photo_marks import photo_marks
from fieldapp.report.layout import LEFT, WIDTH
from fieldapp.report.sheet import SMALL, Sheet
from fieldapp.report.words import Case, check_title, full_time

_LONGEST_PX: Final = 800
_LARGEST_PX: Final = 60_000_000  # a phone's camera has up to 50 million; more is a trap
_QUALITY: Final = 78
_COLUMNS: Final = 3
_GAP: Final = 12.0
_MARKS: Final = "Circles and arrows are drawn over the pictures; the pictures are untouched."
_BOX: Final = ((WIDTH - (_COLUMNS - 1) * _GAP) / _COLUMNS, 124.0)  # width and height [pt]


@dataclass(frozen=True)
class Print:
    """A picture as it goes onto the page, or the reason why it cannot."""

    data: bytes = b""
    width: int = 1
    height: int = 1
    problem: str = ""


def small_print(name: str, photo: Callable[[str], bytes] | None) -> Print:
    """Fetch a photo and make it small.

    Parameters
    ----------
    name : str
        Its name in the record: the SHA-256 of its bytes.
    photo : callable or None
        Gives the bytes of a photo.

    Returns
    -------
    Print
        The picture, upright, without the camera's own notes such as its place.
    """
    if photo is None:
        return Print(problem="kept with the record, not printed here")
    try:
        data = photo(name)
    except ChecksError as error:
        return Print(problem=f"not printed: {error.problem}")
    if sha256(data).hexdigest() != name.split(".", 1)[0]:
        return Print(problem="not printed: the file is not the one that was recorded")
    try:
        with Image.open(BytesIO(data), formats=("JPEG", "PNG")) as image:
            if image.width * image.height > _LARGEST_PX:
                return Print(problem="not printed: too many pixels")
            image.draft("RGB", (_LONGEST_PX, _LONGEST_PX))
            upright = ImageOps.exif_transpose(image).convert("RGB")
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        return Print(problem=f"not printed: it cannot be read ({type(error).__name__})")
    upright.thumbnail((_LONGEST_PX, _LONGEST_PX))
    upright.info.clear()
    out = BytesIO()
    upright.save(out, "JPEG", quality=_QUALITY)
    return Print(out.getvalue(), upright.width, upright.height)


def photos(sheet: Sheet, case: Case, photo: Callable[[str], bytes] | None) -> None:
    """Set every photo with its mark, its check, station and time, and say which are missing."""
    named = list(_named(case))
    if not named:
        return
    prints = [(_Taken(taken, caption), small_print(taken.name, photo)) for taken, caption in named]
    missing = [f"{taken.caption}: {p.problem}." for taken, p in prints if p.problem]
    shown = [(taken, p) for taken, p in prints if not p.problem]
    sheet.section("Photos", _BOX[1] if shown else 60.0)
    if any(taken.photo.marks for taken, _ in shown):
        sheet.flow(_MARKS, SMALL, "ink_soft")
    for line in missing:
        sheet.flow(line, SMALL)
    for start in range(0, len(shown), _COLUMNS):
        _picture_row(sheet, shown[start : start + _COLUMNS])


@dataclass(frozen=True)
class _Taken:
    photo: Photo
    caption: str


def _named(case: Case) -> Iterator[tuple[Photo, str]]:
    for entry in sorted(case.visit.entries, key=lambda e: e.number):
        for number, photo in enumerate(entry.photos, 1):
            yield photo, _caption(case, entry, photo, number)


def _caption(case: Case, entry: Entry, photo: Photo, number: int) -> str:
    station = entry.check.split(".", 1)[0]
    where = f"{check_title(entry.check, case.assessment)} · {station}, {case.place(entry.subject)}"
    made = f"entry {entry.number}, {number} of {len(entry.photos)}"
    words = f"Photo {photo.name[:8]}: {where} · {full_time(photo.at)} · {made}"
    if photo.place is None:
        return words
    return f"{words} · taken at {photo.place.latitude_deg}°, {photo.place.longitude_deg}°"


def _picture_row(sheet: Sheet, shown: Sequence[tuple[_Taken, Print]]) -> None:
    captions = [sheet.lines(taken.caption, _BOX[0], SMALL) for taken, _ in shown]
    scales = [min(_BOX[0] / p.width, _BOX[1] / p.height) for _, p in shown]
    height = max(p.height * k for (_, p), k in zip(shown, scales, strict=True))
    words = SMALL.leading * max(map(len, captions))
    sheet.need(height + words + 8)
    top = sheet.y + 4
    for i, ((taken, p), k) in enumerate(zip(shown, scales, strict=True)):
        x = LEFT + i * (_BOX[0] + _GAP)
        sheet.picture(p.data, x, top, p.width * k, p.height * k)
        with sheet.pdf.rect_clip(x, top, p.width * k, p.height * k):
            sheet.scene(photo_marks(taken.photo.marks, p.width * k, p.height * k), x, top, 1.0)
        for n, line in enumerate(captions[i], 1):
            sheet.put(x, top + height + n * SMALL.leading, line, SMALL, "ink_soft")
    sheet.y = top + height + words + 4
