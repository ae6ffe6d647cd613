"""Citing this edition, and saying what was taken from elsewhere."""

from typing import TypeVar

from checks.codes.rule import Rule
from checks.source import Basis, Source, judgement
from checks.verdict import Force

T = TypeVar("T")


def cec(clause: str, basis: Basis = Basis.LOOKED_UP) -> Source:
    """Return a place in this edition."""
    return Source(document="CE Code (CSA C22.1)", edition="2021", clause=clause, basis=basis)


def recalled(clause: str) -> Source:
    """Return a place in this edition that was not read again."""
    return cec(clause, Basis.FROM_MEMORY)


def good_practice(rule: Rule[T]) -> Rule[T]:
    """Return what the other code asks to be seen as this project's own judgement.

    No rule of this edition was read on the subject, and sound work looks the same on both sides of
    the border. Missing it is never called a violation.
    """
    where = rule.source
    return Rule(
        rule.value,
        judgement(f"good practice, as in {where.document} {where.edition} {where.clause}"),
        Force.TRADE_JUDGEMENT,
    )


def borrowed(rule: Rule[T]) -> Rule[T]:
    """Return the other code's figure where this edition's own was not read: it proves nothing."""
    where = rule.source
    figure = f"CE Code not read on this; figure of {where.document}"
    return Rule(
        rule.value,
        Source(
            document=figure,
            edition=where.edition,
            clause=where.clause,
            basis=Basis.DOUBTFUL,
        ),
        Force.RECOMMENDATION,
    )
