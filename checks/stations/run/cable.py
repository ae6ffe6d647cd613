"""Cable and insulation against their place, and aluminum against its terminals."""

from typing import Final

from checks.check import Situation, not_measured, seen, unsettled
from checks.codes.ampacity import Wiring
from checks.stations.run.wiring import method
from checks.verdict import Judgement, Severity

HOT: Final = "A conductor that carries more than its ampacity cooks its insulation for years unseen"


def judge_wet(s: Situation, built: Wiring) -> Judgement | None:
    """Return the finding where the insulation has no rating for a wet place."""
    rule = s.code.conductors.insulation_c.get(built.insulation)
    if not built.is_wet or rule is None or rule.value[1] is not None:
        return None
    judged = seen(
        False,
        explanation=f"{built.insulation} insulation runs through a wet place, as every buried one "
        "is, and it has no rating for one"
        if s.yes("run.protection.is_buried")
        else f"{built.insulation} insulation runs through a wet place, and it has no rating for "
        "one",
        source=rule.source,
        why="Insulation that soaks up water leaks to ground and fails",
        remedy="Read every marking on the jacket; without a wet rating, replace the conductors",
        severity=Severity.WARNING,
    )
    buried = s.code.installation.seen["wet raceway"].source
    return judged.model_copy(update={"sources": (*judged.sources, buried)})


def judge_cable(s: Situation, built: Wiring) -> tuple[Judgement, ...]:
    """Return what is open where the code knows no such cable, or none with this insulation."""
    known = method(s)
    letters = None if known is None else known.letters
    if known is None:
        words = f"{built.cable} is no cable or raceway of the code that holds here"
    elif letters is not None and built.insulation not in letters.value:
        words = f"{known.words} is not made with {built.insulation} conductors"
    else:
        return ()
    return (
        unsettled(
            words,
            "Read the print on the jacket again",
            remedy="Record cable and insulation by the letters of the code that holds here",
            sources=() if letters is None else (letters.source,),
        ),
    )


def judge_rating(s: Situation, built: Wiring) -> tuple[Judgement, ...]:
    """Return the finding where conductors are rated too low for thermal insulation around them."""
    rule = s.code.conductors.insulated_rating_c.get(built.cable)
    rating_c = s.code.conductors.insulation_c[built.insulation].value[0]
    if rule is None or not built.is_in_insulation or rating_c is None or rating_c >= rule.value:
        return ()
    return (
        seen(
            False,
            explanation=f"The cable lies in thermal insulation, which asks for conductors of "
            f"{rule.value:g} °C; {built.insulation} has {rating_c:g} °C",
            source=rule.source,
            why=HOT,
            remedy=f"Replace that part with a cable whose conductors are rated {rule.value:g} °C",
            severity=Severity.WARNING,
        ),
    )


def judge_aluminum(s: Situation, built: Wiring) -> tuple[Judgement, ...]:
    """Judge whether the terminals of an aluminum conductor are marked for it."""
    if built.material != "aluminum":
        return ()
    rule = s.code.installation.seen["aluminum terminals"]
    marked = s.yes("run.conductor.is_marked_al")
    if marked is None:
        return (not_measured("Still open: are both ends marked for aluminum", (), (rule.source,)),)
    return (
        seen(
            marked,
            explanation="Terminals at both ends are marked for aluminum"
            if marked
            else "A terminal that is not marked for aluminum holds an aluminum conductor",
            source=rule.source,
            why="Aluminum in a copper-only terminal loosens and burns",
            remedy="Keep it dead; splice to copper with listed connectors, or fit marked terminals",
            severity=Severity.WARNING,
        ),
    )
