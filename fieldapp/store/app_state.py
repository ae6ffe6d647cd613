"""What the app keeps beside the visits: the open route, and the settings."""

import os
from pathlib import Path
from typing import Final

from fieldapp.store.canonical import Doc, stored_text
from fieldapp.store.errors import DamagedError, HostileFileError, reason, write_failed
from fieldapp.store.reading import parse_json_object
from fieldapp.store.storage import atomic_write

CHOOSE_AGAIN: Final = "Choose the settings again; the damaged file is kept beside the new one"


class AppState:
    """One small file with the open visit and route, theme, technician, instruments, code profile.

    Parameters
    ----------
    path : Path
        The file; it need not exist.
    """

    def __init__(self, path: Path) -> None:
        self._path = path

    def load(self) -> Doc:
        """Return the state; {} at first.

        Raises
        ------
        DamagedError
            The file cannot be read. Saving sets it aside and keeps it.
        """
        try:
            return parse_json_object(self._path.read_bytes(), "settings")
        except FileNotFoundError:
            return {}
        except OSError as error:
            raise _damaged(f"cannot be read ({reason(error)})") from error
        except HostileFileError as error:
            raise _damaged(error.problem) from error

    def save(self, state: Doc) -> None:
        """Replace the state durably; a damaged file is set aside, not overwritten.

        Raises
        ------
        InvalidRecordError
            The state is not JSON.
        WriteFailedError
            The disk refused.
        """
        text = stored_text(state, "settings")
        try:
            self.load()
        except DamagedError:
            self.set_aside()
        atomic_write(self._path, text)

    def set_aside(self) -> None:
        """Put the file away under another name: it is kept, and read no more."""
        aside = self._path.with_name(f"{self._path.stem}.damaged.{os.urandom(4).hex()}.json")
        try:
            os.replace(self._path, aside)
        except OSError as error:
            raise write_failed(error, self._path, is_replaced=False) from error


def _damaged(problem: str) -> DamagedError:
    return DamagedError(
        problem,
        where="settings",
        remedy=CHOOSE_AGAIN,
    )
