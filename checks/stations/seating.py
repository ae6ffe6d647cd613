"""Whether two faces of a coupler sit home: latch, pull and gap with no current, weighed together.

No single observation shows that a coupler is seated; one bad one shows that it is not.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from checks.check import (
    AnyInput,
    Measurement,
    Situation,
    YesNo,
    compare,
    not_measured,
    together,
)
from checks.quantity import amount
from checks.record import InstrumentKind
from checks.source import judgement, trade
from checks.stations.observing import Sign, signs_of
from checks.units import Dimension
from checks.verdict import Force, Judgement, Limit, Severity, at_most

GAP_M: Final = 0.0015
GAP: Final = judgement("faces of a seated coupler meet within 1.5 mm all round")
HELD: Final = trade("a seated coupler clicks, holds on a firm pull and does not rock")
RESEAT: Final = (
    "With no current, clean and reseat it; if it still does not sit home keep it out of use and "
    "replace the worn part. Never pull or push it under load"
)
HALF: Final = "Contacts that touch on part of their length overheat, and may part under load"


SIGNS: Final = (
    Sign(
        YesNo("is_held", "Holds on a pull", good=True, says=("Holds", "Lets go")),
        HELD,
        "The latch lets go on a firm pull",
        HALF,
        RESEAT,
        Severity.WARNING,
    ),
    Sign(
        YesNo("has_clicked", "Clicks home", good=True, says=("Clicks", "No click")),
        HELD,
        "The latch does not click home",
        HALF,
        RESEAT,
        Severity.WARNING,
    ),
    Sign(
        YesNo("is_rocking", "Rocks in its seat", good=False, says=("Rocks", "Sits firm")),
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


def seating_inputs(part: str) -> tuple[AnyInput, ...]:
    """Return the inputs for one pair of faces.

    Parameters
    ----------
    part : str
        The part that is pushed home: the connector, or the adapter.
    """
    signs = tuple(replace(sign.input, label=_label(sign.input.label, part)) for sign in SIGNS)
    gap = Measurement(
        "gap",
        _label("Widest gap", part),
        dimension=Dimension.LENGTH,
        units=("mm", "in"),
        plausible=(0.0, 0.01),
        instruments=(InstrumentKind.TAPE,),
        access_point="feeler gauge or rule between the two faces, all round",
        against=("gap at the face",),
    )
    return (*signs, gap)


def _label(words: str, part: str) -> str:
    return f"{part.capitalize()}: {words[0].lower()}{words[1:]}"


def judge_seated(s: Situation, check: str, where: str, more: Sequence[Judgement] = ()) -> Judgement:
    """Judge one pair of faces by every observation at it.

    Parameters
    ----------
    s : Situation
        What was recorded.
    check : str
        The check that asks `seating_inputs`.
    where : str
        Which faces: what sits in what.
    more : sequence of Judgement
        What else speaks against it.
    """
    gap_m = s.measured(f"{check}.gap")
    gap = "" if gap_m is None else f"; the widest gap is {amount(gap_m, 'mm')}"
    good = f"The {where} clicks, holds on a pull, does not rock{gap}"
    judged = together([*_parts(s, check), *more], good=good)
    if judged.explanation == good:
        return judged
    said = f"{where.capitalize()}: {judged.explanation[0].lower()}{judged.explanation[1:]}"
    return judged.model_copy(update={"explanation": said})


def _parts(s: Situation, check: str) -> list[Judgement]:
    """Return what each observation at one pair of faces says."""
    parts = [*signs_of(s, check, SIGNS)]
    gap_m = s.measured(f"{check}.gap")
    if gap_m is None:
        parts.append(not_measured("The gap at the face is missing", (gap_limit(),)))
        return parts
    parts.append(
        compare(
            gap_m,
            "mm",
            (gap_limit(),),
            explanation=f"The widest gap at the face is {amount(gap_m, 'mm')}",
            why=HALF,
            remedy=RESEAT,
            severity=Severity.WARNING,
            of="gap at the face",
        )
    )
    return parts
