"""Contrast as W3C defines it, to hold what the app draws against."""

from typing import Final

from fieldapp.theme import rgb

_LINEAR_BELOW: Final = 0.04045


def contrast_ratio(color: str, other: str) -> float:
    """Contrast of two colors ``#RRGGBB``, 1 (none) to 21 (black on white).

    W3C, WCAG 2.2, definitions of relative luminance and contrast ratio (from memory).
    """
    darker, lighter = sorted((_luminance(color), _luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(color: str) -> float:
    linear = [c / 12.92 if c <= _LINEAR_BELOW else ((c + 0.055) / 1.055) ** 2.4 for c in rgb(color)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
