"""A device that does what a test tells it, with a clock that stands still until it is set."""

from collections import deque
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TypeVar

from fieldapp.device.port import Answer, DeviceError, Insets

T = TypeVar("T")


class FakeDevice:
    """Answers at once from what the test laid ready.

    Parameters
    ----------
    data_dir : Path
        A temporary folder.
    clock : datetime
        What `now` says until the test sets it or lets it pass.
    """

    def __init__(
        self, data_dir: Path, clock: datetime = datetime(2026, 3, 14, 9, 0, tzinfo=UTC)
    ) -> None:
        self._data_dir = data_dir
        self.clock = clock
        self.edges = Insets()
        self.photos: deque[bytes | DeviceError | None] = deque()  # what the camera gives next
        self.files: deque[Path | DeviceError | None] = deque()  # what the person chooses next
        self.shared: list[Path] = []
        self.opened: list[Path] = []
        self.kept: list[Path] = []

    def data_dir(self) -> Path:
        self._data_dir.mkdir(parents=True, exist_ok=True)
        return self._data_dir

    def now(self) -> datetime:
        return self.clock

    def let_pass(self, time: timedelta) -> None:
        self.clock += time

    def insets(self) -> Insets:
        return self.edges

    def take_photo(self, target: Path, answer: Answer) -> None:
        photo = self._next(self.photos, "no camera")
        if isinstance(photo, bytes):
            target.write_bytes(photo)
            answer(target)
        else:
            answer(photo)

    def recover_photo(self, target: Path) -> bool:
        return target.is_file() and target.stat().st_size > 0

    def pick_file(self, answer: Answer) -> None:
        answer(self._next(self.files, "no file to choose"))

    def share(self, path: Path) -> None:
        self.shared.append(self._there(path))

    def open_file(self, path: Path) -> None:
        self.opened.append(self._there(path))

    def keep(self, path: Path) -> str:
        self.kept.append(self._there(path))
        return f"Downloads, {path.name}"

    @staticmethod
    def _next(laid_ready: deque[T], problem: str) -> T:
        if not laid_ready:
            raise DeviceError(problem, where="device", remedy="Lay it ready in the test")
        return laid_ready.popleft()

    @staticmethod
    def _there(path: Path) -> Path:
        if not path.exists():
            raise DeviceError("is not there", where=path.name, remedy="Make it again")
        return path
