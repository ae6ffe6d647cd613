"""Checks of things that are seen: one sign a question, and the worst sign decides."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from checks.check import Caution, Judge, Situation, YesNo, not_measured, seen, together
from checks.source import Source
from checks.verdict import Judgement, Severity

SEEN: Final = ("Seen", "None seen")  # what was looked for, by the answers yes and no
DAMAGED: Final = ("Damaged", "Sound")
INSIDE: Final = "panel.absence_of_voltage"  # what every hand and lead inside a panel rests on
# What must stand before a hand comes to conductors of the circuit, and to those in its panel.
CIRCUIT_DEAD: Final = ("breaker.lock_and_tag", "breaker.absence_of_voltage")
PANEL_DEAD: Final = (*CIRCUIT_DEAD, INSIDE)
LOW_OHMS: Final = "Measure with a low-resistance ohmmeter that drives 200 mA, leads nulled"
BESIDE_BUS: Final = Caution(
    Severity.DANGER,
    "Off at one breaker leaves the bus live: go in only while the whole panel stands proved dead. "
    "At service equipment the line side of the main stays live even then: barriers stay on.",
)


@dataclass(frozen=True)
class Sign:
    """One thing that is seen.

    Parameters
    ----------
    input : YesNo
        The question, with the good answer declared.
    rule : str or Source
        Subject of the code's rule, or where it comes from where no code rules it.
    bad : str
        What to say when the answer is not the good one.
    why, remedy : str
        Why it matters, and what to do.
    severity : Severity
        How bad it is.
    """

    input: YesNo
    rule: str | Source
    bad: str
    why: str
    remedy: str
    severity: Severity


def rule_source(s: Situation, rule: str | Source) -> Source:
    """Return where a rule stands in the code of this visit."""
    return rule if isinstance(rule, Source) else s.code.installation.seen[rule].source


def signs_of(s: Situation, check: str, signs: Sequence[Sign]) -> tuple[Judgement, ...]:
    """Return one judgement a sign that this installation has.

    An optional one that was not answered is left out.
    """
    parts = []
    for sign in (each for each in signs if each.input.where(s)):
        answer = s.yes(f"{check}.{sign.input.name}")
        if answer is None and sign.input.optional:
            continue
        parts.append(_judged(s, sign, answer))
    return tuple(parts)


def _judged(s: Situation, sign: Sign, answer: bool | None) -> Judgement:
    source = rule_source(s, sign.rule)
    if answer is None:
        return not_measured(f"Still open: {sign.input.label}", sources=(source,))
    is_good = answer == sign.input.good
    return seen(
        is_good,
        explanation=sign.input.label if is_good else sign.bad,
        source=source,
        why=sign.why,
        remedy=sign.remedy,
        severity=sign.severity,
    )


def sees(check: str, signs: Sequence[Sign], good: str) -> Judge:
    """Return the judge of a check that consists of signs only."""

    def judge(s: Situation) -> Judgement:
        return together(signs_of(s, check, signs), good=good)

    return judge
