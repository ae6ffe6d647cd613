"""A computer with a screen, or without one."""

import itertools
import os
import shutil
import subprocess
import sys
import threading
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from fieldapp.device.port import Answer, DeviceError, Insets

# File dialogs as the desktops bring them; each prints the chosen path.
_DIALOGS: Final = (
    ("zenity", "--file-selection"),
    ("kdialog", "--getopenfilename"),
    ("osascript", "-e", "POSIX path of (choose file)"),
)
_OPENERS: Final = ("xdg-open", "open")


class DesktopDevice:
    """Linux or macOS; a photo is chosen among the files instead of taken.

    Parameters
    ----------
    data_dir : Path or None
        The app's folder; by default where the system keeps such data.
    """

    def __init__(self, data_dir: Path | None = None) -> None:
        self._data_dir = data_dir or _standard_data_dir()

    def data_dir(self) -> Path:
        """Return the app's private folder; it exists."""
        try:
            self._data_dir.mkdir(mode=0o700, parents=True, exist_ok=True)
        except OSError as error:
            raise DeviceError(
                f"the folder {self._data_dir} cannot be made ({error.strerror})",
                where="data folder",
                remedy="Free the name, or set XDG_DATA_HOME to a folder that can be written",
            ) from error
        return self._data_dir

    def now(self) -> datetime:
        """Return the time in the computer's zone."""
        return datetime.now(UTC).astimezone()

    def insets(self) -> Insets:
        """Return none: a window of a desktop has no bars in it."""
        return Insets()

    def take_photo(self, target: Path, answer: Answer) -> None:
        """Let the person choose a picture, and copy it to the target."""

        def copy(chosen: Path | DeviceError | None) -> None:
            answer(_copied(chosen, target) if isinstance(chosen, Path) else chosen)

        self.pick_file(copy)

    def recover_photo(self, target: Path) -> bool:
        """Return whether the copy was finished."""
        return target.is_file() and target.stat().st_size > 0

    def pick_file(self, answer: Answer) -> None:
        """Open the desktop's own file dialog; the answer comes from another thread."""
        dialog = _found(_DIALOGS)
        if dialog is None:
            raise DeviceError(
                "no file dialog on this computer",
                where="choose a file",
                remedy="Install zenity or kdialog, or use the command line",
            )
        threading.Thread(target=_ask, args=(dialog, answer), daemon=True).start()

    def share(self, path: Path) -> None:
        """Show the folder that holds the file."""
        _open(path.parent)

    def open_file(self, path: Path) -> None:
        """Show a file in the program that the desktop uses for its kind."""
        _open(path)

    def keep(self, path: Path) -> str:
        """Put a copy into the download folder; without one, into the home folder."""
        downloads = Path.home() / "Downloads"
        folder = downloads if downloads.is_dir() else Path.home()
        try:
            target = _copied_beside(path, folder)
        except OSError as error:
            raise DeviceError(
                f"could not be copied to {folder} ({error.strerror})",
                where=path.name,
                remedy="Free some space, or share it instead",
            ) from error
        return str(target)


def _standard_data_dir() -> Path:
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "fieldapp"
    # XDG Base Directory Specification 0.8: an empty or relative value counts as not set.
    base = os.environ.get("XDG_DATA_HOME", "")
    return (Path(base) if os.path.isabs(base) else Path.home() / ".local" / "share") / "fieldapp"


def _found(commands: Sequence[Sequence[str]]) -> list[str] | None:
    return next(([*command] for command in commands if shutil.which(command[0])), None)


def _ask(dialog: list[str], answer: Answer) -> None:
    try:
        done = subprocess.run(dialog, capture_output=True, text=True, check=False)
    except OSError as error:
        answer(
            DeviceError(
                f"the file dialog did not start ({error.strerror})",
                where="choose a file",
                remedy="Use the command line",
            )
        )
        return
    chosen = done.stdout.removesuffix("\n")
    answer(Path(chosen) if done.returncode == 0 and chosen else None)


def _copied(chosen: Path, target: Path) -> Path | DeviceError:
    beside = target.with_name(f"{target.name}.part")
    try:
        shutil.copyfile(chosen, beside)
        os.replace(beside, target)
    except OSError as error:
        return DeviceError(
            f"the picture could not be copied ({error.strerror})",
            where="photo",
            remedy="Choose another picture, or free some space",
        )
    return target


def _copied_beside(path: Path, folder: Path) -> Path:
    """Copy a file under the first name that is free; half of it is not left behind."""
    names = (f"{path.stem} ({n}){path.suffix}" for n in itertools.count(2))
    for name in itertools.chain([path.name], names):
        target = folder / name
        try:
            sink = target.open("xb")
        except FileExistsError:
            continue
        try:
            with sink, path.open("rb") as source:
                shutil.copyfileobj(source, sink)
        except OSError:
            target.unlink()
            raise
        break
    return target


def _open(path: Path) -> None:
    if not path.exists():
        raise DeviceError(
            "is not there", where=path.name, remedy="Make the report or the export again"
        )
    opener = _found([[name] for name in _OPENERS])
    if opener is None:
        raise DeviceError(
            "no program to open it", where=path.name, remedy=f"Open it by hand: {path}"
        )
    try:
        # Set apart, so that closing the app does not close the document.
        process = subprocess.Popen(
            [*opener, str(path)],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
    except OSError as error:
        raise DeviceError(
            f"could not be opened ({error.strerror})",
            where=path.name,
            remedy=f"Open it by hand: {path}",
        ) from error
    threading.Thread(target=process.wait, daemon=True).start()  # leaves no zombie
