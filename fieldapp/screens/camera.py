"""Photos on their way in: what each is for is on disk before the camera comes to the front."""

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from kivy.clock import Clock

from checks.errors import ChecksError
from fieldapp.device.port import DeviceError
from fieldapp.screens.job import Job
from fieldapp.screens.screen import guarded
from fieldapp.screens.sheets import trouble

if TYPE_CHECKING:
    from fieldapp.screens.guide import Guide
    from fieldapp.walk.visit import Walk

PENDING_PHOTO: Final = "photo-pending.jpg"


class Camera:
    """Takes photos for the open visit, and finds again one that the app was ended over.

    Parameters
    ----------
    guide : Guide
        Knows the device and the open visit.
    """

    def __init__(self, guide: "Guide") -> None:
        self._guide = guide
        self._job: Job[str] | None = None

    @property
    def is_busy(self) -> bool:
        """Whether a picture is being made small right now."""
        return self._job is not None

    def take(self, key: str, *, from_file: bool = False) -> None:
        """Let a photo be taken, or a picture be chosen, for the check that the key names.

        Raises
        ------
        checks.errors.ChecksError
            There is no camera, or the check is open no more.
        """
        walk, device = self._guide.open_walk, self._guide.device
        self._target.unlink(missing_ok=True)
        walk.expect_photo(key)
        answer = partial(self._later, walk, key)
        try:
            if from_file:
                device.pick_file(answer)
            else:
                device.take_photo(self._target, answer)
        except DeviceError:
            walk.expect_none()
            raise

    @guarded
    def recover(self) -> None:
        """Keep the photo that was being taken when the system ended the app."""
        walk = self._guide.walk
        if walk is None or not walk.awaits_photo:
            return
        if self._guide.device.recover_photo(self._target):
            self._keep(walk, walk.awaits_photo, self._target)
        else:
            walk.expect_none()

    @property
    def _target(self) -> Path:
        return self._guide.device.data_dir() / PENDING_PHOTO

    def _later(self, walk: "Walk", key: str, answer: Path | DeviceError | None) -> None:
        """Take the device's answer; it may come from another thread."""
        Clock.schedule_once(lambda _: self._answered(walk, key, answer))

    @guarded
    def _answered(self, walk: "Walk", key: str, answer: Path | DeviceError | None) -> None:
        if isinstance(answer, Path):
            self._keep(walk, key, answer)
            return
        walk.expect_none()
        if answer is not None:
            raise answer

    def _keep(self, walk: "Walk", key: str, taken: Path) -> None:
        # a large picture takes a second to read: not on the thread that draws
        self._job = Job(
            lambda _: walk.store_photo(taken),
            lambda do: Clock.schedule_once(lambda _: do()),
            progress=lambda *_: None,
            done=partial(self._done, walk, key),
            failed=partial(self._failed, walk),
            cancelled=self._show,
        )
        self._job.start()
        self._show()

    @guarded
    def _done(self, walk: "Walk", key: str, name: str) -> None:
        self._job = None
        try:
            walk.attach_photo(name, key)
        finally:
            self._target.unlink(missing_ok=True)
            self._show(name)

    def _failed(self, walk: "Walk", error: Exception) -> None:
        self._job = None
        if not isinstance(error, ChecksError):
            raise error
        walk.expect_none()
        self._target.unlink(missing_ok=True)
        self._show()
        trouble(error)

    def _show(self, name: str = "") -> None:
        screen = self._guide.screen
        if screen is not None:
            screen.photos_changed(name)
