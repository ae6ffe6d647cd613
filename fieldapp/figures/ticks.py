"""Round numbers for an axis."""

from math import ceil, floor, log10


def nice_ticks(lo: float, hi: float, about: int = 5) -> list[float]:
    """Ticks in steps of 1, 2 or 5 times a power of ten, from below ``lo`` to above ``hi``.

    Parameters
    ----------
    lo, hi : float
        Ends of what is to be shown, in any unit. [unit of the axis]
    about : int
        Roughly how many steps are wanted. [count]

    Returns
    -------
    list of float
        Ascending, the first at or below ``lo``, the last at or above ``hi``. [unit of the axis]
    """
    lo, hi = min(lo, hi), max(lo, hi)
    if hi == lo:
        lo, hi = lo - 0.5, hi + 0.5
    raw = (hi - lo) / max(1, about)
    magnitude = 10.0 ** floor(log10(raw))
    slack = 1e-9
    step = next(m * magnitude for m in (1, 2, 5, 10) if raw <= m * magnitude * (1 + slack))
    first, last = floor(lo / step + slack), ceil(hi / step - slack)
    return [round(k * step, 12) for k in range(first, last + 1)]
