"""How a state is named, and how a folder is laid ready whose app comes up in it."""

import shutil
import tempfile
from collections.abc import Callable
from functools import cache
from pathlib import Path

from fieldapp.walk.desk import Desk
from tests.gallery.walking import desk_in

State = Callable[[Desk], None]
STATES: dict[str, State] = {}
_BASES: dict[str, str] = {}
_STAGED = tempfile.TemporaryDirectory()


def state(made: State) -> State:
    """Take a state in, by the name of what brings it about in an empty folder."""
    STATES[made.__name__] = made
    return made


def after(base: State) -> Callable[[State], State]:
    """Take a state in that begins where another one ends."""

    def based(made: State) -> State:
        _BASES[made.__name__] = base.__name__
        return state(made)

    return based


def stage(name: str, folder: Path) -> None:
    """Lay the folder ready for one state."""
    shutil.copytree(_staged(name), folder, dirs_exist_ok=True)


@cache
def _staged(name: str) -> Path:
    """Walk to a state once a process."""
    folder = Path(_STAGED.name) / name
    if name in _BASES:
        stage(_BASES[name], folder)
    with desk_in(folder) as desk:
        STATES[name](desk)
    return folder


def set_look(data: Path, palette: str, text_scale: float) -> None:
    """Set how the app over a folder comes up."""
    with desk_in(data) as desk:
        desk.set(theme=palette, text_scale=text_scale)
