"""The ledger: which visits are on this device, where the app was, and how it looks.

The first screen needs no more than this, so nothing of the trade is imported here: the list is
there before the library that judges a visit is loaded.
"""

from collections.abc import Callable
from datetime import datetime
from typing import Any, Final, NamedTuple

from checks import SOFTWARE
from fieldapp.language import ENGLISH, LANGUAGES
from fieldapp.store.listing import Listing, MadeBy
from fieldapp.store.visits import Store, Stored
from fieldapp.theme import MAX_TEXT_SCALE, PALETTES

Clock = Callable[[], datetime]

_SUMMARY: Final = 4  # raised with every change of what `fieldapp.walk.summaries.summary` returns


class Position(NamedTuple):
    """Which screen was open, on which visit and what of it."""

    screen: str = "visits"
    visit: str = ""
    of: str = ""


class Look(NamedTuple):
    """Theme, text size and language, as `fieldapp.walk.desk.Settings` has them."""

    theme: str = "day"
    text_scale: float = 1.0
    language: str = ENGLISH


class Ledger:
    """The visits of a device, and the small file beside them.

    Parameters
    ----------
    store : Store
        Where all is kept.
    now : callable
        The clock: an aware datetime.

    Raises
    ------
    DamagedError
        The file beside the visits cannot be read.
    """

    def __init__(self, store: Store, now: Clock) -> None:
        self.store, self.now = store, now
        self._kept = store.app_state.load()
        at = self.kept("position")
        self.position = Position(**{k: str(at[k]) for k in Position._fields if k in at})

    def kept(self, name: str) -> dict[str, Any]:
        """Return what was kept under a name; nothing at first."""
        found = self._kept.get(name)
        return dict(found) if isinstance(found, dict) else {}

    def keep(self, **parts: dict[str, Any]) -> None:
        """Keep parts under their names, on disk at once."""
        self._kept = {**self._kept, **parts}
        self.store.app_state.save(self._kept)

    def go(self, screen: str, visit: str = "", of: str = "") -> None:
        """Remember which screen is open."""
        self.position = Position(screen, visit, of)
        self.keep(position=self.position._asdict())

    def set_settings_aside(self) -> None:
        """Keep settings that cannot be used beside the new ones; the usual ones hold."""
        self.store.app_state.set_aside()
        self.keep(settings={})

    @property
    def look(self) -> Look:
        """How the app looks; the usual look where the settings say what is none."""
        said, usual = self.kept("settings"), Look()
        theme, scale, code = map(said.get, Look._fields)
        if not isinstance(scale, int | float) or not 1.0 <= scale <= MAX_TEXT_SCALE:
            scale = usual.text_scale
        return Look(
            str(theme) if str(theme) in PALETTES else usual.theme,
            float(scale),
            str(code) if str(code) in LANGUAGES else usual.language,
        )

    def visits(self) -> Listing:
        """List all visits with their summaries."""
        return self.store.listing(_summary, MadeBy(form=f"summary {_SUMMARY}", software=SOFTWARE))


def _summary(stored: Stored) -> dict[str, Any]:
    from fieldapp.walk.summaries import summary  # only a visit that changed is judged for the list

    return summary(stored)
