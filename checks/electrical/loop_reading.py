"""Loop resistances that share conductors tell which conductor holds a joint."""

from collections.abc import Mapping
from typing import Final, TypeAlias

from checks.quantity import expanded, nominal
from checks.source import Basis, Source
from checks.units import Number

Pair: TypeAlias = tuple[str, str]

LOOPS: Final = Source(
    document="Survey of receptacles by line-ground against line-neutral loop resistance, grounded "
    "neutral",
    basis=Basis.LOOKED_UP,
)


def loop_excess_ohm(loop_ohm: Number, supply_ohm: Number, metal_ohm: Number) -> Number:
    """Resistance of a measured loop that neither the supply nor the metal of the run explains.

    Parameters
    ----------
    loop_ohm : Number
        Loop resistance read at the outlet. [Ω]
    supply_ohm : Number
        Loop resistance up to the panel. [Ω]
    metal_ohm : Number
        Both conductors of this loop in the run; a smaller grounding conductor counts as it is. [Ω]

    Returns
    -------
    Number
        Excess. [Ω]

    References
    ----------
    Ohm's law.

    Examples
    --------
    >>> round(loop_excess_ohm(0.42, 0.15, 0.2), 2)
    0.07
    """
    return loop_ohm - supply_ohm - metal_ohm


def holder(excess_ohm: Mapping[Pair, Number], allowed_ohm: float) -> str:
    """Name the conductor that holds a joint, where the loops show one.

    A conductor holds it when it is part of every loop that has too much, and of no other; when
    those agree within their uncertainty; and when each other loop has less by more than that.

    Parameters
    ----------
    excess_ohm : mapping
        Excess of each loop by the names of its two conductors. [Ω]
    allowed_ohm : float
        What sound joints may have. [Ω]

    Returns
    -------
    str
        The conductor; empty where the loops do not show exactly one. [-]

    References
    ----------
    Comparison of line-ground and line-neutral loops at an outlet; Kirchhoff's laws.

    Examples
    --------
    Both loops of the line are high alike, so it is in the line; only the one to ground, so it is
    there:

    >>> holder({("line", "neutral"): 0.08, ("line", "ground"): 0.08}, 0.01)
    'line'
    >>> loops = {("L1", "ground"): 0.09, ("L2", "ground"): 0.0, ("L1", "neutral"): 0.09}
    >>> holder(loops, 0.01)
    'L1'
    >>> holder({("line", "neutral"): 0.0, ("line", "ground"): 0.09}, 0.01)
    'ground'
    """
    high = [p for p, x in excess_ohm.items() if nominal(x) - expanded(x) > allowed_ohm]
    low = [p for p in excess_ohm if all(_is_less(excess_ohm[p], excess_ohm[h]) for h in high)]
    disagree = any(_is_less(excess_ohm[a], excess_ohm[b]) for a in high for b in high)
    if not high or disagree or len(high) + len(low) < len(excess_ohm):
        return ""
    suspects = set(high[0]).intersection(*map(set, high)) - {name for p in low for name in p}
    return suspects.pop() if len(suspects) == 1 else ""


def _is_less(one: Number, other: Number) -> bool:
    difference = other - one
    return nominal(difference) > expanded(difference)
