"""Colors by meaning, type, spacing and touch sizes as plain data, for screen and page alike.

Three palettes hold the same tokens: ``day`` (paper and ink), ``night`` and ``outdoor`` (black on
white, heavy edges, no tint that carries meaning). Copper belongs to the current's path, to what is
selected and to the keyboard's focus; graphite to the main action. Green, red and violet belong to
verdicts, the safety colors to severities, and to nothing else.
"""

from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType
from typing import Final

from checks.errors import ChecksError

SEVERITIES: Final = ("danger", "warning", "caution", "notice")

_SAFETY: Final = {  # panel color and the lettering on it; hues after ANSI Z535.1, from memory
    "danger": "#B5121B",
    "on_danger": "#FFFFFF",
    "warning": "#FF8A00",
    "on_warning": "#000000",
    "caution": "#FFD100",
    "on_caution": "#000000",
    "notice": "#0B4EA2",
    "on_notice": "#FFFFFF",
}

_ON_PHOTOS: Final = {"mark": "#FFFFFF", "mark_halo": "#000000"}  # seen on any picture

_DAY: Final = {
    "ground": "#EAE8E0",
    "surface": "#FDFCF9",
    "key": "#FFFFFF",
    "pressed": "#D8D4C6",
    "ink": "#14212B",
    "ink_soft": "#46535C",
    "line": "#CFCBBF",
    "rule": "#CFCBBF",
    "edge": "#66727A",
    "action": "#17303F",
    "on_action": "#FFFFFF",
    "destroy": "#A8121B",
    "on_destroy": "#FFFFFF",
    "accent": "#96480F",
    "accent_tint": "#F6E6D8",
    "within": "#0B6640",
    "within_tint": "#D5EBDF",
    "outside": "#A8121B",
    "outside_tint": "#F7DEDB",
    "borderline": "#5F2A91",
    "not_measured": "#46535C",
    "not_applicable": "#5A656C",
    "veil": "#14212B",
    **_SAFETY,
    **_ON_PHOTOS,
}

_NIGHT: Final = {
    "ground": "#0F1519",
    "surface": "#1A2329",
    "key": "#2A363E",
    "pressed": "#42525C",
    "ink": "#F3F4EF",
    "ink_soft": "#B8C2C6",
    "line": "#3A474F",
    "rule": "#3A474F",
    "edge": "#82919A",
    "action": "#EDE6D5",
    "on_action": "#14212B",
    "destroy": "#FF9C94",
    "on_destroy": "#2B0305",
    "accent": "#F2A66F",
    "accent_tint": "#3A2A1F",
    "within": "#6FDCA4",
    "within_tint": "#173A2B",
    "outside": "#FF9C94",
    "outside_tint": "#472120",
    "borderline": "#CFADFF",
    "not_measured": "#B8C2C6",
    "not_applicable": "#9BA8AF",
    "veil": "#000000",
    **_SAFETY,
    **_ON_PHOTOS,
}

_OUTDOOR: Final = {
    "ground": "#FFFFFF",
    "surface": "#FFFFFF",
    "key": "#FFFFFF",
    "pressed": "#E4E4E4",
    "ink": "#000000",
    "ink_soft": "#1A1A1A",
    "line": "#000000",
    "rule": "#8C8C8C",
    "edge": "#000000",
    "action": "#000000",
    "on_action": "#FFFFFF",
    "destroy": "#7A0008",
    "on_destroy": "#FFFFFF",
    "accent": "#6B2A00",
    "accent_tint": "#FFFFFF",
    "within": "#003D22",
    "within_tint": "#FFFFFF",
    "outside": "#7A0008",
    "outside_tint": "#FFFFFF",
    "borderline": "#3B0F6B",
    "not_measured": "#1A1A1A",
    "not_applicable": "#2B2B2B",
    "veil": "#000000",
    **_SAFETY,
    **_ON_PHOTOS,
    "danger": "#8A0811",
    "warning": "#FF9B21",
    "notice": "#003A80",
}

PALETTES: Final[Mapping[str, Mapping[str, str]]] = MappingProxyType(
    {
        "day": MappingProxyType(_DAY),
        "night": MappingProxyType(_NIGHT),
        "outdoor": MappingProxyType(_OUTDOOR),
    }
)

# Thickness of the edge of cards and keys, by palette. [dp]
EDGE_DP: Final[Mapping[str, float]] = MappingProxyType({"day": 1.0, "night": 1.0, "outdoor": 2.5})
# What can be pressed stands on a thicker foot: the one sign of a button, in every palette. [dp]
FOOT_DP: Final[Mapping[str, float]] = MappingProxyType({"day": 4.0, "night": 4.0, "outdoor": 6.0})

# Nothing smaller than body anywhere. [sp]
TYPE_SP: Final[Mapping[str, float]] = MappingProxyType(
    {
        "body": 16.0,
        "lead": 18.0,
        "action": 20.0,
        "title": 22.0,
        "reading": 28.0,
        "key": 30.0,
        "value": 56.0,
    }
)
MAX_TEXT_SCALE: Final = 2.0
LARGE_TEXT: Final = 1.5  # from here on a small phone has no room for what can stand elsewhere
# What may be asked for by touch. [unitless]
TEXT_SCALES: Final = (1.0, 1.3, 1.6, MAX_TEXT_SCALE)
_LARGE_SP: Final = 44.0
_LARGE_GROWTH: Final = 1.3

# Distances and touch sizes. [dp]
TOUCH_ACTION_DP: Final = 64.0
RADIUS_DP: Final = 6.0
TWO_PANES_FROM_DP: Final = 600.0
FLAT_BELOW_DP: Final = 500.0

FONT_FILES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "regular": "fonts/IBMPlexSans-Regular.ttf",
        "medium": "fonts/IBMPlexSans-Medium.ttf",
        "semibold": "fonts/IBMPlexSans-SemiBold.ttf",
    }
)


def is_wide(width_dp: float) -> bool:
    """Whether two panes fit beside each other.

    Parameters
    ----------
    width_dp : float
        Of the window or of what holds the panes. [dp]
    """
    return width_dp >= TWO_PANES_FROM_DP


def is_flat(width_dp: float, height_dp: float) -> bool:
    """Whether this is a phone on its side: what stands one below the other has no room.

    Parameters
    ----------
    width_dp, height_dp : float
        Of the window or of what holds the parts. [dp]
    """
    return height_dp < min(width_dp, FLAT_BELOW_DP)


def scaled_sp(size_sp: float, text_scale: float) -> float:
    """Size of text when the user asks for larger text.

    Text for reading grows in full; what is large already grows less, so that pad and values keep
    their place on a phone.

    Parameters
    ----------
    size_sp : float
        Size from `TYPE_SP`. [sp]
    text_scale : float
        Factor asked for, 1 to `MAX_TEXT_SCALE`. [unitless]

    Returns
    -------
    float
        Size to use. [sp]
    """
    return min(size_sp * text_scale, max(_LARGE_SP, size_sp * _LARGE_GROWTH))


def rgb(hex_color: str) -> tuple[float, float, float]:
    """Red, green and blue of a ``#RRGGBB`` color, each 0 to 1."""
    value = hex_color.removeprefix("#")
    red, green, blue = (int(value[i : i + 2], 16) / 255 for i in (0, 2, 4))
    return red, green, blue


def asset(name: str) -> Path:
    """Path of a file that travels with the app.

    An installed package carries the files inside itself; a working copy has them beside it.

    Parameters
    ----------
    name : str
        Path below the assets folder, with forward slashes: ``fonts/IBMPlexSans-Regular.ttf``.

    Returns
    -------
    pathlib.Path
        An existing file or folder.

    Raises
    ------
    ChecksError
        It is in neither place: the installation is incomplete.
    """
    package = Path(__file__).resolve().parent
    for root in (package / "assets", package.parent / "assets"):
        if (root / name).exists():
            return root / name
    raise ChecksError(
        f"the file '{name}' is missing", where="Installation", remedy="Install the app again"
    )
