"""The touch app: opens the store, the desk and the first screen, and lets no error pass unsaid."""

import gc
import importlib
import logging
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

from kivy.app import App
from kivy.base import ExceptionHandler, ExceptionManager
from kivy.clock import Clock
from kivy.config import Config
from kivy.core.window import Window
from kivy.metrics import dp
from kivy.uix.widget import Widget

from checks.errors import ChecksError
from fieldapp.device import Device, this_device
from fieldapp.screens.guide import Guide, put_on
from fieldapp.screens.sheets import Sheet, nothing, trouble
from fieldapp.screens.shell import Shell
from fieldapp.screens.trouble import TroublePage
from fieldapp.store.errors import DamagedError
from fieldapp.store.folder import KEYS
from fieldapp.store.visits import Store
from fieldapp.walk.ledger import Ledger
from fieldapp.widgets.rebound import Rebound

_GC = (50_000, 20, 50)  # a widget is a cycle: the usual thresholds collect all the time
_TIDY_AFTER_S = 1.0  # what pages leave behind is collected while one is read, not under a tap
_LAYOUT_ROUNDS = 40  # words wrap, keys grow: more rounds than Kivy's ten before a frame
_LEAST_DP = (360, 360)
_LOG_BYTES = 200_000
_SWEEP_AFTER_S = 2.0  # the first screen is there before all visits are listed for it


class Loud(ExceptionHandler):
    """Writes what went wrong to a file and says that nothing was lost; the app goes on."""

    def __init__(self, log: Callable[[], logging.Logger]) -> None:
        self._log = log

    def handle_exception(self, exception: Exception) -> int:
        """Take an exception of the event loop."""
        if isinstance(exception, ChecksError):
            trouble(exception)
        else:
            self._log().error("unexpected", exc_info=exception)
            _sorry(exception)
        return int(ExceptionManager.PASS)


class FieldApp(App):
    """The app.

    Parameters
    ----------
    data_dir : Path
        Where visits, photos, reports, the key and the settings live.
    device : Device
        Clock, camera, files.
    """

    title = "Field instrument"

    def __init__(self, data_dir: Path, device: Device, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._dir, self._device = data_dir, device
        self.guide: Guide | None = None
        self._store: Store | None = None
        self._loud = Loud(self._log)
        self._say: ChecksError | None = None
        self._logs: logging.Logger | None = None
        self._tidy_later = Clock.create_trigger(lambda _: gc.collect(), _TIDY_AFTER_S)
        self._rebound = Rebound(self._seen)
        self._sweep_later = Clock.create_trigger(lambda _: self._sweep(), _SWEEP_AFTER_S)

    def build(self) -> Widget:
        """Open the store and come up where the app was; or say why that cannot be."""
        Clock.max_iteration = _LAYOUT_ROUNDS
        Window.minimum_width, Window.minimum_height = (dp(x) for x in _LEAST_DP)
        ExceptionManager.add_handler(self._loud)
        try:
            return self._open()
        except ChecksError as error:
            return TroublePage(error)

    def _open(self) -> Widget:
        store = self._store = Store(self._dir)
        ledger = self._ledger(store)
        put_on(ledger.look)
        shell, keys_dir = Shell(self._device), self._dir / KEYS
        self.guide = Guide(ledger, self._device, keys_dir, shell.show, lambda: shell.has_room)
        return shell

    def _ledger(self, store: Store) -> Ledger:
        """Open the ledger; a damaged file beside the visits is set aside, and that is said."""
        try:
            return Ledger(store, self._device.now)
        except DamagedError as error:
            self._say = error
            store.app_state.save({})
            return Ledger(store, self._device.now)

    def _sweep(self) -> None:
        """Delete photos that nothing names any more; what stands in the way waits for next time."""
        if self.guide is None:
            return
        ledger = self.guide.ledger
        try:
            ledger.store.sweep_photos(ledger.visits(), self._device.now())
        except ChecksError as error:
            self._log().error("photos not swept: %s", error)

    def _log(self) -> logging.Logger:
        """Return what writes into the folder; it is opened with the first error."""
        if self._logs is None:
            self._logs = _log_to(self._dir / "errors.log")
        return self._logs

    def _seen(self) -> tuple[int, ...]:
        """Name what lies on top: a page each time it is filled, or a sheet over it."""
        screen = self.guide.screen if self.guide is not None else None
        filled = screen.filled if screen is not None else 0
        return (*map(id, Window.children), id(screen), filled)

    def _touched(self, *_: Any) -> None:
        """Collect the widgets of pages that are gone, which are cycles, once the hand rests."""
        self._tidy_later.cancel()
        self._tidy_later()

    def open_settings(self, *_: Any) -> bool:
        """Show this app's own settings instead of the toolkit's."""
        if self.guide is not None:
            self.guide.go("settings")
        return True

    def on_start(self) -> None:
        """Come up where the app was."""
        if self.guide is not None:
            try:
                self.guide.restore()
            except Exception as error:  # noqa: BLE001 - whatever stands on disk keeps nobody out
                self._loud.handle_exception(error)
            self._sweep_later()
        if self._say is not None:
            trouble(self._say)
        Window.bind(on_touch_up=self._touched)
        self._rebound.start()

    def on_pause(self) -> bool:
        """Save what stands half typed: after this the system may end the app without a word."""
        self._save()
        return True

    def _save(self) -> None:
        """Save what stands in a field; what is refused or cannot be written ends nothing else."""
        try:
            if self.guide is not None:
                self.guide.save()
        except ChecksError as error:
            self._log().error("not saved: %s", error)

    def on_stop(self) -> None:
        """Save, and let another process in."""
        self._rebound.stop()
        Window.unbind(on_touch_up=self._touched)
        self._tidy_later.cancel()
        self._sweep_later.cancel()
        self._save()
        if self._store is not None:
            self._store.close()
        ExceptionManager.remove_handler(self._loud)


def run_touch(data_dir: Path) -> int:
    """Open the touch interface; return the exit code."""
    Config.set("kivy", "exit_on_escape", "0")
    gc.set_threshold(*_GC)
    app = FieldApp(data_dir, this_device())
    app.bind(on_start=lambda *_: Window.bind(on_flip=_load_the_trade))
    app.run()
    return 0


def _load_the_trade(*_: Any) -> None:
    """Load what judges a visit while the first picture is looked at: a touch finds it there."""
    Window.unbind(on_flip=_load_the_trade)

    def load() -> None:
        importlib.import_module("fieldapp.walk.desk")
        gc.freeze()  # what is loaded by now stays: the tidying looks only at what comes after

    threading.Thread(target=load, name="load").start()


def _log_to(path: Path) -> logging.Logger:
    from logging.handlers import RotatingFileHandler  # and with it sockets and pickles

    log = logging.getLogger("fieldapp")
    log.propagate = False  # the toolkit owns the root logger
    for handler in list(log.handlers):
        log.removeHandler(handler)
        handler.close()
    handler = RotatingFileHandler(path, maxBytes=_LOG_BYTES, backupCount=1, delay=True)
    handler.setFormatter(logging.Formatter("%(asctime)s %(message)s"))
    log.addHandler(handler)
    return log


def _sorry(exception: Exception) -> None:
    if any(isinstance(w, Sheet) for w in Window.children):
        return
    Sheet(
        "Something went wrong",
        words=(
            "Your data is saved. Go on, or close the app and open it again.",
            f"For the maker: {type(exception).__name__}. Details are in errors.log.",
        ),
        accept=("Close", nothing),
    ).open()
