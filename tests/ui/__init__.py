"""Touch-driven tests. Importing the package chooses a window that needs no screen, before Kivy."""

import logging
import os

os.environ.setdefault("SDL_VIDEODRIVER", "offscreen")
os.environ.setdefault("KIVY_NO_ARGS", "1")
os.environ.setdefault("KIVY_NO_FILELOG", "1")
os.environ.setdefault("KIVY_NO_CONSOLELOG", "1")
os.environ.setdefault("KIVY_NO_CONFIG", "1")  # never read or write a user's configuration
os.environ.setdefault("KIVY_CLIPBOARD", "dummy")  # none of the machine's clipboard programs
os.environ.setdefault("KIVY_LOG_MODE", "PYTHON")  # leave the root logger to pytest
logging.getLogger("kivy").addHandler(logging.NullHandler())  # quiet outside of pytest

from kivy.config import Config  # noqa: E402

# The surface without a screen keeps its first size: as large as any window a test asks for.
Config.set("graphics", "width", "1280")
Config.set("graphics", "height", "1280")
Config.set("graphics", "maxfps", "0")
Config.set("kivy", "exit_on_escape", "0")
for _option, _ in list(Config.items("input")):  # no real mouse or touch screen
    Config.remove_option("input", _option)
