"""Pictures as the camera made them: kept beside the photos of a visit until it is signed."""

import io
from collections.abc import Callable, Iterator
from fractions import Fraction
from pathlib import Path
from typing import Final

from PIL import Image

from fieldapp.store.errors import MissingError, write_failed
from fieldapp.store.photos import PHOTO_NAME
from fieldapp.store.storage import atomic_write

# Exif 2.32, 4.6.3 and table 15 (from memory): the position's own list, and its fields in it.
_GPS: Final = 0x8825
_LATITUDE_REF, _LATITUDE, _LONGITUDE_REF, _LONGITUDE = 1, 2, 3, 4
_BETWEEN: Final = "@"  # occurs in no visit's id
_MOST_DEG: Final = (90, 180)
_DIGITS: Final = 5  # of a degree: 1 m


class Originals:
    """Originals by visit and photo; private to the device, with all that the camera wrote.

    Parameters
    ----------
    folder : Path
        A folder that exists.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def keep(self, visit_id: str, name: str, data: bytes) -> None:
        """Keep the original of a photo, byte for byte.

        Raises
        ------
        WriteFailedError
            The disk refused.
        """
        atomic_write(self._path(visit_id, name), data)

    def path(self, visit_id: str, name: str) -> Path:
        """Return where an original lies.

        Raises
        ------
        MissingError
            It is gone: the visit was signed, or the photo came from another device.
        """
        path = self._path(visit_id, name)
        if not PHOTO_NAME.fullmatch(name) or not path.is_file():
            raise MissingError(
                "its original is not kept any more",
                where=f"photo {name[:8]}",
                remedy="Use the photo itself, or take another one",
            )
        return path

    def place(self, visit_id: str, name: str) -> tuple[str, str] | None:
        """Return latitude and longitude that the camera wrote, in decimal degrees, if it did. [°].

        Raises
        ------
        MissingError
            See `path`.
        """
        return written_place(self.path(visit_id, name).read_bytes())

    def drop(self, is_done: Callable[[str], bool]) -> None:
        """Delete the originals of visits that are done: signed, or no longer there."""
        found = list(self._all())
        done = {visit_id for visit_id in {v for v, _ in found} if is_done(visit_id)}
        for visit_id, path in found:
            try:
                if visit_id in done:
                    path.unlink()
            except OSError as error:
                raise write_failed(error, path, is_replaced=False) from error

    def _all(self) -> Iterator[tuple[str, Path]]:
        for path in self._folder.iterdir():
            visit_id, between, name = path.name.partition(_BETWEEN)
            if between and PHOTO_NAME.fullmatch(name):
                yield visit_id, path

    def _path(self, visit_id: str, name: str) -> Path:
        return self._folder / f"{visit_id}{_BETWEEN}{name}"


def written_place(data: bytes) -> tuple[str, str] | None:
    """Return latitude and longitude that a camera wrote into a picture, in decimal degrees. [°].

    References
    ----------
    Exif 2.32 (CIPA DC-008), 4.6.6 and table 15: degrees, minutes and seconds as three rationals,
    N or S, E or W (from memory).
    """
    try:
        with Image.open(io.BytesIO(data), formats=("JPEG", "PNG")) as picture:
            told = picture.getexif().get_ifd(_GPS)
        latitude = _degrees(told[_LATITUDE], told[_LATITUDE_REF], "NS", _MOST_DEG[0])
        longitude = _degrees(told[_LONGITUDE], told[_LONGITUDE_REF], "EW", _MOST_DEG[1])
    except (OSError, SyntaxError, ValueError, TypeError, KeyError, ArithmeticError):
        return (
            None  # the camera wrote none, or none that can be read: then there is none to ask for
        )
    return latitude, longitude


def _degrees(parts: object, ref: object, sides: str, most: int) -> str:
    if not isinstance(parts, tuple) or not isinstance(ref, str) or ref not in tuple(sides):
        raise ValueError("no position")
    degrees, minutes, seconds = (Fraction(float(x)) for x in parts)
    value = float(degrees + minutes / 60 + seconds / 3600)
    if not 0 <= value <= most:
        raise ValueError("no such position")
    return f"{value if ref == sides[0] else -value:.{_DIGITS}f}"
