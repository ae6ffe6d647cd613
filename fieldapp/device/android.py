"""A phone or tablet with Android 10 (API level 29) or later, by way of pyjnius.

Not run: the tests have no Android. They only compare its methods with the port's. Written from the
documentation of Android, of python-for-android and of pyjnius; to be tried on a device before it
is relied on. It declares no permission: camera and files are other apps, asked by an intent, and
what is shared goes through the system's own download folder, so no provider is declared either.
"""

import importlib
import mimetypes
import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any, Final

from fieldapp.device.port import Answer, DeviceError, Insets

# Android SDK, class documentation of Activity, Intent and Build.VERSION_CODES (from memory).
_RESULT_OK: Final = -1
_API_TYPED_INSETS: Final = 30
_TAKE_PHOTO, _PICK_FILE = 0x5101, 0x5102  # request codes, our own
_PICKED_LIMIT_BYTES: Final = 250_000_000  # more than the largest bundle

Java = Any  # a Java object or class; pyjnius has no types


class AndroidDevice:
    """An Android phone or tablet; Java is loaded at the first use."""

    def data_dir(self) -> Path:
        """Return the app's private folder, which goes when the app is removed."""
        return Path(_activity().getFilesDir().getAbsolutePath())

    def now(self) -> datetime:
        """Return the time in the phone's zone, which Android tells Java but not always Python."""
        utc = datetime.now(UTC)
        zone = _java("java.util.TimeZone").getDefault()
        offset_ms = zone.getOffset(int(utc.timestamp() * 1000))
        return utc.astimezone(timezone(timedelta(milliseconds=offset_ms)))

    def insets(self) -> Insets:
        """Return the system's bars and the notch; from Android 15 on the window lies under them."""
        insets = _activity().getWindow().getDecorView().getRootWindowInsets()
        if insets is None:  # the window is not attached yet
            return Insets()
        if _java("android.os.Build$VERSION").SDK_INT >= _API_TYPED_INSETS:
            kinds = _java("android.view.WindowInsets$Type")
            edges = insets.getInsets(kinds.systemBars() | kinds.displayCutout())
            return Insets(edges.left, edges.top, edges.right, edges.bottom)
        return Insets(
            insets.getSystemWindowInsetLeft(),
            insets.getSystemWindowInsetTop(),
            insets.getSystemWindowInsetRight(),
            insets.getSystemWindowInsetBottom(),
        )

    def take_photo(self, target: Path, answer: Answer) -> None:
        """Let the camera app write into the media store, then move the photo into the target."""
        with _told("photo", "Install a camera app, or choose a picture"):
            uri = _published("android.provider.MediaStore$Images$Media", target.name)
            _note(target).write_text(uri.toString(), encoding="utf-8")
            store = _java("android.provider.MediaStore")
            intent = _java("android.content.Intent")(store.ACTION_IMAGE_CAPTURE)
            intent.putExtra(store.EXTRA_OUTPUT, _cast("android.os.Parcelable", uri))
            intent.addFlags(intent.FLAG_GRANT_WRITE_URI_PERMISSION)

            def moved(_: Java) -> Path | None:
                return target if self.recover_photo(target) else None

            try:
                _start_for_result(intent, _TAKE_PHOTO, _answering(moved, target, answer))
            except BaseException:
                _forget(target)
                raise

    def recover_photo(self, target: Path) -> bool:
        """Move a photo that the camera app has finished out of the media store."""
        note = _note(target)
        if note.exists():
            with _told("photo", "Take the photo again"):
                uri = _java("android.net.Uri").parse(note.read_text(encoding="utf-8"))
                beside = target.with_name(f"{target.name}.part")
                _copy_in(uri, beside)
                if beside.stat().st_size:
                    os.replace(beside, target)
                else:
                    beside.unlink()
                _forget(target)
        return target.is_file() and target.stat().st_size > 0

    def pick_file(self, answer: Answer) -> None:
        """Open the system's file chooser, then copy what was chosen into the app's folder."""
        target = self.data_dir() / "picked"
        with _told("choose a file", "Install a file manager"):
            intents = _java("android.content.Intent")
            intent = intents(intents.ACTION_OPEN_DOCUMENT)
            intent.addCategory(intents.CATEGORY_OPENABLE)
            intent.setType("*/*")

            def copied(result: Java) -> Path | None:
                _copy_in(result.getData(), target)
                return target

            _start_for_result(intent, _PICK_FILE, _answering(copied, None, answer))

    def share(self, path: Path) -> None:
        """Put a copy into the download folder and offer it to other apps."""
        with _told(path.name, "Install an app that can send files"):
            intents = _java("android.content.Intent")
            intent = intents(intents.ACTION_SEND)
            intent.setType(_kind(path))
            parcel = _cast("android.os.Parcelable", _downloaded(path))
            intent.putExtra(intents.EXTRA_STREAM, parcel)
            intent.addFlags(intents.FLAG_GRANT_READ_URI_PERMISSION)
            title = _cast("java.lang.CharSequence", _java("java.lang.String")(path.name))
            _activity().startActivity(intents.createChooser(intent, title))

    def open_file(self, path: Path) -> None:
        """Put a copy into the download folder and show it in the app that opens its kind."""
        with _told(path.name, "Install an app that opens such files"):
            intents = _java("android.content.Intent")
            intent = intents(intents.ACTION_VIEW)
            intent.setDataAndType(_downloaded(path), _kind(path))
            intent.addFlags(intents.FLAG_GRANT_READ_URI_PERMISSION)
            _activity().startActivity(intent)

    def keep(self, path: Path) -> str:
        """Put a copy into the download folder; the system numbers a name that is taken."""
        with _told(path.name, "Free some space"):
            _downloaded(path)
        return f"Downloads, {path.name}"


def _java(name: str) -> Java:
    return importlib.import_module("jnius").autoclass(name)


def _cast(name: str, value: Java) -> Java:
    return importlib.import_module("jnius").cast(name, value)


def _activity() -> Java:
    return _java("org.kivy.android.PythonActivity").mActivity


@contextmanager
def _told(where: str, remedy: str) -> Iterator[None]:
    try:
        yield
    except (importlib.import_module("jnius").JavaException, OSError) as error:
        raise DeviceError(
            f"the device refused ({type(error).__name__}: {error})", where=where, remedy=remedy
        ) from error


def _answering(
    made: Callable[[Java], Path | None], photo: Path | None, answer: Answer
) -> Callable[[int, Java], None]:
    def on_result(result_code: int, result: Java) -> None:
        outcome: Path | DeviceError | None = None
        try:
            with _told("file", "Choose or take it again"):
                if result_code == _RESULT_OK:
                    outcome = made(result)
                elif photo is not None:
                    _forget(photo)
        except DeviceError as error:
            outcome = error
        answer(outcome)

    return on_result


def _start_for_result(intent: Java, code: int, on_result: Callable[[int, Java], None]) -> None:
    activity = importlib.import_module("android.activity")

    def handle(request_code: int, result_code: int, result: Java) -> None:
        if request_code == code:
            activity.unbind(on_activity_result=handle)
            on_result(result_code, result)

    activity.bind(on_activity_result=handle)
    try:
        _activity().startActivityForResult(intent, code)
    except BaseException:
        activity.unbind(on_activity_result=handle)
        raise


def _published(collection: str, name: str) -> Java:
    """Make an empty entry in one of the system's shared collections."""
    values = _java("android.content.ContentValues")()
    values.put("_display_name", name)
    values.put("mime_type", _kind(Path(name)))
    uri = _activity().getContentResolver().insert(_java(collection).EXTERNAL_CONTENT_URI, values)
    if uri is None:
        raise OSError("the media store made no entry")
    return uri


def _downloaded(path: Path) -> Java:
    uri = _published("android.provider.MediaStore$Downloads", path.name)
    fd = _activity().getContentResolver().openFileDescriptor(uri, "w").detachFd()
    with path.open("rb") as source, os.fdopen(fd, "wb") as sink:
        shutil.copyfileobj(source, sink)
    return uri


def _copy_in(uri: Java, target: Path) -> None:
    fd = _activity().getContentResolver().openFileDescriptor(uri, "r").detachFd()
    with os.fdopen(fd, "rb") as source, target.open("wb") as sink:
        left = _PICKED_LIMIT_BYTES
        while left > 0 and (part := source.read(min(left, 1 << 20))):
            sink.write(part)
            left -= len(part)
    if not left:
        target.unlink()
        raise OSError(f"larger than {_PICKED_LIMIT_BYTES / 1e6:g} MB")


def _note(target: Path) -> Path:
    """Where the media store's entry for a photo is written down, in case the app is ended."""
    return target.with_name(f"{target.name}.uri")


def _forget(target: Path) -> None:
    note = _note(target)
    if note.exists():
        uri = _java("android.net.Uri").parse(note.read_text(encoding="utf-8"))
        _activity().getContentResolver().delete(uri, None, None)
        note.unlink()


def _kind(path: Path) -> str:
    return mimetypes.guess_type(path.name)[0] or "application/octet-stream"
