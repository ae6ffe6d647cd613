"""What the app asks of a device; the desktop, Android and the tests' fake answer alike."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import NamedTuple, Protocol, runtime_checkable

from checks.errors import ChecksError


class DeviceError(ChecksError):
    """The device cannot do what was asked."""


class Insets(NamedTuple):
    """How far the system's bars and the camera's notch reach into the window.

    Parameters
    ----------
    left_px, top_px, right_px, bottom_px : int
        From each edge of the window. [px]
    """

    left_px: int = 0
    top_px: int = 0
    right_px: int = 0
    bottom_px: int = 0


# A file; None when the person turned back; an error when it could not be had.
Answer = Callable[[Path | DeviceError | None], None]


@runtime_checkable
class Device(Protocol):
    """A phone or a computer.

    An ``answer`` may come from another thread and much later, or never: the system may end the
    app while another one is in front. Save what it is for before asking.
    """

    def data_dir(self) -> Path:
        """Return the app's private folder; it exists."""
        ...

    def now(self) -> datetime:
        """Return the time, with its zone: the only clock of the app."""
        ...

    def insets(self) -> Insets:
        """Return the edges of the window that must stay free."""
        ...

    def take_photo(self, target: Path, answer: Answer) -> None:
        """Let the person take a photo into a file of the app's folder.

        Parameters
        ----------
        target : Path
            The file to be made.
        answer : Callable
            Gets the target, None, or an error.

        Raises
        ------
        DeviceError
            There is no camera app.
        """
        ...

    def recover_photo(self, target: Path) -> bool:
        """Fetch a photo that was taken after the system ended the app; whether there is one."""
        ...

    def pick_file(self, answer: Answer) -> None:
        """Let the person choose a file; the answer gets a file that can be read at once.

        Raises
        ------
        DeviceError
            There is no way to choose one.
        """
        ...

    def share(self, path: Path) -> None:
        """Hand a file to another app or person.

        Raises
        ------
        DeviceError
            Nothing takes it.
        """
        ...

    def open_file(self, path: Path) -> None:
        """Show a file in the app that the person uses for its kind.

        Raises
        ------
        DeviceError
            Nothing opens it.
        """
        ...

    def keep(self, path: Path) -> str:
        """Put a copy where the person finds it without the app; return where, in words.

        A file that is there already is never replaced.

        Raises
        ------
        DeviceError
            It cannot be written there.
        """
        ...
