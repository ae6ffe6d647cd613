"""Contact sheets: all pictures of one size side by side, small, each with its name."""

from collections.abc import Sequence
from pathlib import Path

from PIL import Image, ImageDraw

_WIDE, _HIGH = 2400, 300  # of a sheet, and of a picture on it. [px]
_GAP, _NAME = 8, 16
_PAPER, _INK = "#8a8a8a", "#000000"


def contact_sheet(pictures: Sequence[Path], file: Path) -> None:
    """Put pictures on one sheet, in the order given."""
    sheet = Image.new("RGB", (_WIDE, 1), _PAPER)
    x, y = _WIDE, -(_HIGH + _NAME + _GAP)
    for path in pictures:
        with Image.open(path) as whole:
            small = whole.resize((whole.width * _HIGH // whole.height, _HIGH), Image.Resampling.BOX)
        if x + small.width > _WIDE:
            x, y = 0, y + _HIGH + _NAME + _GAP
            sheet = _longer(sheet, y + _HIGH + _NAME + _GAP)
        sheet.paste(small, (x, y + _NAME))
        ImageDraw.Draw(sheet).text((x + 2, y + 2), path.stem, _INK)
        x += small.width + _GAP
    sheet.save(file)


def _longer(sheet: Image.Image, height: int) -> Image.Image:
    longer = Image.new("RGB", (sheet.width, height), _PAPER)
    longer.paste(sheet, (0, 0))
    return longer
