"""Moves between the screens: one visit open at most, and the place on disk at every step.

Nothing of the trade is imported here: the list of visits comes up before it, and what opens a
visit brings it in.
"""

import importlib
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Final

from checks.errors import ChecksError
from fieldapp import language
from fieldapp.device.port import Device
from fieldapp.screens.camera import Camera
from fieldapp.screens.screen import Screen
from fieldapp.screens.sheets import trouble
from fieldapp.store.errors import DamagedError
from fieldapp.walk.ledger import Ledger, Look, Position
from fieldapp.widgets import theme

if TYPE_CHECKING:
    from checks.assess import Row
    from checks.check import CircuitState
    from fieldapp.walk.desk import Desk
    from fieldapp.walk.visit import Walk

# Each screen is imported and made when it is first gone to.
ROUTES: Final = {
    "visits": ("visits", "VisitsScreen"),
    "form": ("form", "FormScreen"),
    "path": ("path", "PathScreen"),
    "facts": ("facts", "FactsScreen"),
    "correct": ("correct", "CorrectScreen"),
    "points": ("points", "PointsScreen"),
    "station": ("station", "StationScreen"),
    "state": ("state", "StateScreen"),
    "check": ("check", "CheckScreen"),
    "about": ("about", "AboutScreen"),
    "note": ("note", "NoteScreen"),
    "photos": ("photos", "PhotosScreen"),
    "mark": ("mark", "MarkScreen"),
    "leave_out": ("leave_out", "LeaveOutScreen"),
    "result": ("result", "ResultScreen"),
    "findings": ("findings", "FindingsScreen"),
    "work": ("work", "WorkScreen"),
    "causes": ("causes", "CausesScreen"),
    "trends": ("trends", "TrendsScreen"),
    "earlier": ("earlier", "EarlierScreen"),
    "sign_off": ("sign_off", "SignOffScreen"),
    "signature": ("signature", "SignatureScreen"),
    "report": ("report", "ReportScreen"),
    "leave": ("leave", "LeaveScreen"),
    "energy": ("energy", "EnergyScreen"),
    "settings": ("settings", "SettingsScreen"),
    "kit": ("kit", "KitScreen"),
    "instrument": ("instrument", "InstrumentScreen"),
}


def put_on(look: Look) -> None:
    """Let everything look and speak like this from here on."""
    theme.name, theme.text_scale = look.theme, look.text_scale
    language.use(look.language)


class Guide:
    """Knows what is open and brings the next screen up.

    Parameters
    ----------
    ledger : Ledger
        The visits, and where the app was.
    device : Device
        The phone or computer.
    keys_dir : Path
        Where the signing key lives.
    show : callable
        Puts a screen before the person.
    has_room : callable
        Whether the path fits beside the page.
    """

    def __init__(
        self,
        ledger: Ledger,
        device: Device,
        keys_dir: Path,
        show: Callable[[Screen], None],
        has_room: Callable[[], bool],
    ) -> None:
        self.ledger, self.device, self.keys_dir = ledger, device, keys_dir
        self.walk: Walk | None = None
        self.screen: Screen | None = None
        # the check or the state that this screen was come to straight from
        self.made: Row | CircuitState | None = None
        self._show, self._has_room = show, has_room
        self._desk: Desk | None = None
        self._made: dict[str, Screen] = {}
        self.camera = Camera(self)

    @property
    def desk(self) -> "Desk":
        """Settings and forms; settings that cannot be used are set aside, and that is said."""
        if self._desk is None:
            from fieldapp.walk.desk import Desk  # and with it all that judges a visit

            try:
                self._desk = Desk(self.ledger)
            except DamagedError as error:
                self.ledger.set_settings_aside()
                self._desk = Desk(self.ledger)
                put_on(self.ledger.look)
                self._made.clear()
                trouble(error)
        return self._desk

    @property
    def open_walk(self) -> "Walk":
        """The visit that is open."""
        if self.walk is None:
            raise ChecksError("no visit is open", where="walk", remedy="Open one from the list")
        return self.walk

    def go(self, name: str, of: str = "", *, made: "Row | CircuitState | None" = None) -> None:
        """Go to a screen; the place is on disk before it is seen.

        Raises
        ------
        checks.errors.ChecksError
            The screen has nothing to show there; the one before stays.
        """
        self.save()
        if name == "visits":
            self.walk = None
        language.keep(lambda: self.walk.own_words if self.walk else frozenset())
        before, screen = (self.screen, self.made), self._screen(name)
        self.screen, self.made = screen, made
        try:
            screen.enter(of)
        except ChecksError:
            self.screen, self.made = before
            raise
        if self.screen is screen and screen.of == of:  # else it went on to another by itself
            self.ledger.go(name, self.walk.visit.id if self.walk else "", of)
            self._show(screen)

    def open_visit(self, visit_id: str) -> None:
        """Open a visit on its path."""
        self.walk = self.desk.open(visit_id)
        self.go("path")
        self._tell_unread()
        self.camera.recover()

    def restore(self) -> None:
        """Come up where the app was; where that is gone, at the list of visits.

        Raises
        ------
        Exception
            What was open cannot be used, or where it was makes no sense; the list is up all the
            same.
        """
        at = self.ledger.position
        try:
            if at.visit:
                self.walk = self.desk.open(at.visit)
            self.go(at.screen if at.screen in ROUTES else "visits", self._open_of(at))
        except (KeyError, StopIteration):
            self.go("visits")
        except Exception:
            self.go("visits")
            raise
        self._tell_unread()
        self.camera.recover()

    def _tell_unread(self) -> None:
        """Say which half-made checks of the visit that was opened cannot be read."""
        unread = self.walk.unread if self.walk is not None else None
        if unread is not None:
            trouble(unread)

    def _open_of(self, at: Position) -> str:
        """Return what the screen was of; where a check had just led on, the one that is open."""
        walk = self.walk
        if at.screen == "check" and walk is not None and walk.questions is not None:
            return walk.questions.check.id
        return at.of

    def speak(self, code: str) -> None:
        """Speak another language from here on; every screen is made anew, with its words."""
        self.desk.set(language=code)
        language.use(code)
        self._made.clear()

    def save(self) -> None:
        """Put on disk what still stands in a field."""
        if self.screen is not None:
            self.screen.leave()

    @property
    def shows_path_beside(self) -> bool:
        """Whether the window has room for the path beside the page."""
        return self._has_room()

    def _screen(self, name: str) -> Screen:
        if name not in self._made:
            module, kind = ROUTES[name]
            found = importlib.import_module(f"fieldapp.screens.{module}")
            self._made[name] = getattr(found, kind)(self)
        return self._made[name]
