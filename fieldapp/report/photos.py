"""Photos on the page: made small, checked against the hash that the record names."""

from collections.abc import Callable
from dataclasses import dataclass
from hashlib import sha256
from io import BytesIO
from typing import Final

from PIL import Image, ImageOps

from checks.errors import ChecksError

_LONGEST_PX: Final = 800
_LARGEST_PX: Final = 60_000_000  # a phone's camera has up to 50 million; more is a trap
_QUALITY: Final = 78


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
