"""Whether two faces of a coupler sit home: latch, pull and gap with no current, weighed together.

No single observation shows that a coupler is seated; one bad one shows that it is not.
"""

from typing import Final

from checks.check import AnyInput, Measurement, Situation, YesNo, compare, not_measured
from checks.quantity import Dimension, amount
from checks.record import InstrumentKind
from checks.source import judgement, trade
from checks.stations.observing import Sign, signs_of
from checks.verdict import Force, Judgement, Limit, Severity, at_most

GAP_M: Final = 0.0015
GAP: Final = judgement("faces of a seated coupler meet within 1.5 mm all round")
HELD: Final = trade("a seated coupler clicks, holds on a firm pull and does not rock")
RESEAT: Final = (
    "With no current, clean and reseat it; if it still does not sit home keep it out of use and "
    "replace the worn part. Never pull or push it under load"
)
HALF: Final = "Contacts that touch on part of their length overheat, and may part under load"


def _signs(suffix: str) -> tuple[Sign, ...]:
    return (
        Sign(
            YesNo(f"is_held{suffix}", "Holds on a pull", good=True),
            HELD,
            "The latch lets go on a firm pull",
            HALF,
            RESEAT,
            Severity.WARNING,
        ),
        Sign(
            YesNo(f"has_clicked{suffix}", "Clicks home", good=True),
            HELD,
            "The latch does not click home",
            HALF,
            RESEAT,
            Severity.WARNING,
        ),
        Sign(
            YesNo(f"is_rocking{suffix}", "Rocks in its seat", good=False),
            HELD,
            "It rocks in its seat",
            HALF,
            RESEAT,
            Severity.WARNING,
        ),
    )


def gap_limit() -> Limit:
    """Return the widest gap of a seated coupler."""
    return at_most(GAP_M, "mm", Force.TRADE_JUDGEMENT, GAP, of="gap at the face")


def seating_inputs(suffix: str = "", side: str = "") -> tuple[AnyInput, ...]:
    """Return the inputs for one pair of faces.

    Parameters
    ----------
    suffix : str
        Added to the inputs' names, where a check has more than one pair.
    side : str
        Which pair: what is mated there.
    """
    signs = tuple(
        YesNo(sign.input.name, _label(sign.input.label, side), good=sign.input.good)
        for sign in _signs(suffix)
    )
    gap = Measurement(
        f"gap{suffix}",
        _label("Widest gap", side),
        dimension=Dimension.LENGTH,
        units=("mm", "in"),
        plausible=(0.0, 0.01),
        instruments=(InstrumentKind.TAPE,),
        access_point="feeler gauge or rule between the two faces, all round",
    )
    return (*signs, gap)


def _label(words: str, side: str) -> str:
    return f"{side}: {words[0].lower()}{words[1:]}" if side else words


def seated_words(s: Situation, reference: str) -> str:
    """Return what is said of a pair of faces that sits home."""
    gap_m = s.measured(reference)
    gap = "" if gap_m is None else f"; the widest gap is {amount(gap_m, 'mm')}"
    return f"clicks, holds on a pull, does not rock{gap}"


def seating_parts(s: Situation, check: str, suffix: str = "", side: str = "") -> list[Judgement]:
    """Return what each observation at one pair of faces says."""
    at = f" ({side})" if side else ""
    parts = [
        part.model_copy(update={"explanation": part.explanation + at})
        for part in signs_of(s, check, _signs(suffix))
    ]
    gap_m = s.measured(f"{check}.gap{suffix}")
    if gap_m is None:
        parts.append(not_measured(f"The gap at the face is missing{at}", (gap_limit(),)))
    else:
        parts.append(
            compare(
                gap_m,
                "mm",
                (gap_limit(),),
                explanation=f"The widest gap at the face is {amount(gap_m, 'mm')}{at}",
                why=HALF,
                remedy=RESEAT,
                severity=Severity.WARNING,
                of=f"gap at the face{at}",
            )
        )
    return parts
