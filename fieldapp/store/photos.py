"""Photos: made small and free of the camera's data, named by the hash of their bytes."""

import hashlib
import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from pathlib import Path
from typing import Final

from PIL import Image

from fieldapp.store.errors import (
    DamagedError,
    HostileFileError,
    MissingError,
    reason,
    shown,
    write_failed,
)
from fieldapp.store.storage import atomic_write

PHOTO_LIMIT_BYTES: Final = 25_000_000
PIXEL_LIMIT: Final = 52_000_000  # a camera of 8192 by 6144 is still taken
THUMBNAIL_PX: Final = 320  # a row of small pictures stays sharp at three dots a dp
SIDE_PX: Final = 1600  # a rating plate that fills a quarter of the picture stays legible
QUALITY: Final = 85
ORPHAN_AGE: Final = timedelta(days=1)
PHOTO_NAME: Final = re.compile(r"[0-9a-f]{64}\.(?:jpg|png)")
_SUFFIX: Final = {"JPEG": "jpg", "MPO": "jpg", "PNG": "png"}
_ORIENTATION: Final = 0x0112  # Exif 2.32, table 4: where the first row and column lie
_UPRIGHT: Final[dict[object, Image.Transpose]] = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
_CAMERA_DATA: Final = ("exif", "xmp", "XML:com.adobe.xmp", "photoshop")  # where a location may hide
_AGAIN: Final = "Take the photo again, or choose a JPEG or PNG picture"


class PhotoFolder:
    """The photos of all visits.

    A photo is added before the visit that names it is saved, so that no visit ever names a photo
    that is not there.

    Parameters
    ----------
    folder : Path
        A folder that exists; the small copies lie in one beside it.
    """

    def __init__(self, folder: Path) -> None:
        self._folder, self._thumbnails = folder, folder.with_name("thumbnails")

    def add(self, data: bytes, where: str = "photo") -> str:
        """Make a picture small, strip the camera's data, store it durably, and return its name.

        Raises
        ------
        HostileFileError
            Not a whole JPEG or PNG of a decent size.
        WriteFailedError
            The disk refused.
        """
        small = prepared(data, where)
        name = f"{hashlib.sha256(small).hexdigest()}.jpg"
        self._put(name, small)
        return name

    def keep(self, name: str, data: bytes) -> None:
        """Store a photo that comes with a visit from elsewhere, byte for byte.

        Raises
        ------
        HostileFileError
            See `check_photo`.
        """
        check_photo(name, data)
        self._put(name, data)

    def path(self, name: str) -> Path:
        """Return where a photo lies; MissingError when it is not there."""
        if not PHOTO_NAME.fullmatch(name) or not (path := self._folder / name).is_file():
            raise MissingError(
                "is not stored on this device",
                where=f"photo {shown(name)}",
                remedy="Import the visit's bundle again, or take the photo again",
            )
        return path

    def load(self, name: str) -> bytes:
        """Return a photo's bytes; DamagedError when they are not those that were stored."""
        try:
            data = self.path(name).read_bytes()
            problem = None if _is_named_by_hash(name, data) else "is not what was stored"
        except OSError as error:
            problem = f"cannot be read ({reason(error)})"
        if problem:
            raise DamagedError(problem, where=f"photo {name}", remedy="Take the photo again")
        return data

    def thumbnail(self, name: str) -> Path:
        """Return where a small copy of a photo lies; it is made when it is asked for first.

        Raises
        ------
        MissingError, DamagedError, HostileFileError
            There is no photo to copy.
        """
        path = self._thumbnails / name
        if not PHOTO_NAME.fullmatch(name) or not path.is_file():
            atomic_write(path, thumbnail(self.load(name), f"photo {name[:8]}"), is_durable=False)
        return path

    def sweep(self, named: frozenset[str], now: datetime) -> int:
        """Delete photos that no visit names and that are older than a day; return how many."""
        eve = (now - ORPHAN_AGE).timestamp()
        swept = 0
        for path in self._folder.iterdir():
            is_orphan = PHOTO_NAME.fullmatch(path.name) and path.name not in named
            try:
                if is_orphan and path.stat().st_mtime < eve:
                    path.unlink()
                    (self._thumbnails / path.name).unlink(missing_ok=True)
                    swept += 1
            except OSError as error:
                raise write_failed(error, path, is_replaced=False) from error
        return swept

    def _put(self, name: str, data: bytes) -> None:
        # Written even if it is there: that renews its age and mends a damaged one.
        atomic_write(self._folder / name, data)


def read_picture(path: Path) -> bytes:
    """Return the bytes of a picture file; one that is far too large is not even read.

    Raises
    ------
    HostileFileError
        Larger than a picture is, or it cannot be read.
    """
    try:
        if path.stat().st_size > PHOTO_LIMIT_BYTES:
            raise _too_large("photo")
        return path.read_bytes()
    except OSError as error:
        raise HostileFileError(
            f"cannot be read ({reason(error)})", where="photo", remedy=_AGAIN
        ) from error


def _too_large(where: str) -> HostileFileError:
    return HostileFileError(
        f"larger than {PHOTO_LIMIT_BYTES / 1e6:g} MB", where=where, remedy=_AGAIN
    )


def prepared(data: bytes, where: str) -> bytes:
    """Return a picture as a small upright JPEG without the camera's data.

    Raises
    ------
    HostileFileError
        Not a whole JPEG or PNG of a decent size.
    """
    with _picture(data, where) as picture:
        picture.draft("RGB", (SIDE_PX, SIDE_PX))  # decodes a large JPEG at a part of its size
        # Pillow's own exif_transpose also rewrites the camera's data, and stumbles over odd ones.
        turn = _UPRIGHT.get(picture.getexif().get(_ORIENTATION))
        picture.thumbnail((SIDE_PX, SIDE_PX))
        opaque = (picture if turn is None else picture.transpose(turn)).convert("RGBA")
        # A new image carries nothing over: no position, no comment, no thumbnail of the whole.
        clean = Image.new("RGB", opaque.size, "white")
        clean.paste(opaque, mask=opaque.getchannel("A"))
    out = io.BytesIO()
    clean.save(out, "JPEG", quality=QUALITY, optimize=True)
    return out.getvalue()


def thumbnail(data: bytes, where: str) -> bytes:
    """Return a small copy of a stored photo; a JPEG is decoded at a part of its size.

    Raises
    ------
    HostileFileError
        Not a whole JPEG or PNG of a decent size.
    """
    with _picture(data, where) as picture:
        picture.draft("RGB", (THUMBNAIL_PX, THUMBNAIL_PX))
        picture.thumbnail((THUMBNAIL_PX, THUMBNAIL_PX))
        out = io.BytesIO()
        picture.convert("RGB").save(out, "JPEG", quality=QUALITY)
    return out.getvalue()


def check_photo(name: str, data: bytes) -> None:
    """Refuse a photo from elsewhere that is not what its name says, or that tells too much.

    Raises
    ------
    HostileFileError
        Wrong name, hash, kind or size; not a whole picture; or with the camera's data.
    """
    where = f"photo {shown(name)}"
    if not PHOTO_NAME.fullmatch(name) or not _is_named_by_hash(name, data):
        raise HostileFileError(
            "its content is not what its name says",
            where=where,
            remedy="Export the visit again where it was made",
        )
    with _picture(data, where) as picture:
        picture.load()
        told = [key for key in _CAMERA_DATA if key in picture.info]
        if told or _SUFFIX[str(picture.format)] != name[-3:]:
            raise HostileFileError(
                "carries camera data, such as where it was taken" if told else "has a wrong suffix",
                where=where,
                remedy="Export the visit again where it was made",
            )


def names_in(raw: bytes) -> frozenset[str]:
    """Return every photo name that occurs anywhere in the bytes of a visit."""
    return frozenset(PHOTO_NAME.findall(raw.decode(errors="replace")))


def _is_named_by_hash(name: str, data: bytes) -> bool:
    return name[:64] == hashlib.sha256(data).hexdigest()


@contextmanager
def _picture(data: bytes, where: str) -> Iterator[Image.Image]:
    if len(data) > PHOTO_LIMIT_BYTES:
        raise _too_large(where)
    try:
        # Without the list, over forty formats are tried, some by starting another program.
        with Image.open(io.BytesIO(data), formats=("JPEG", "PNG")) as picture:
            if picture.width * picture.height > PIXEL_LIMIT:
                raise HostileFileError(
                    f"more than {PIXEL_LIMIT / 1e6:g} million pixels", where=where, remedy=_AGAIN
                )
            yield picture
    except (
        OSError,
        SyntaxError,
        ValueError,
        Image.DecompressionBombError,
        Image.DecompressionBombWarning,
    ) as error:
        raise HostileFileError(
            "not a whole JPEG or PNG picture", where=where, remedy=_AGAIN
        ) from error
