"""The words of a verdict and of a finding, worst first."""

from collections.abc import Iterable
from enum import StrEnum


class Verdict(StrEnum):
    """The five words, the same everywhere."""

    WITHIN = "within"
    OUTSIDE = "outside"
    BORDERLINE = "borderline"
    NOT_MEASURED = "not measured"
    NOT_APPLICABLE = "not applicable"


WORST_FIRST = (
    Verdict.OUTSIDE,
    Verdict.BORDERLINE,
    Verdict.NOT_MEASURED,
    Verdict.WITHIN,
    Verdict.NOT_APPLICABLE,
)


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """Return the worst of several verdicts; of none, ``not applicable``."""
    return min(verdicts, key=WORST_FIRST.index, default=Verdict.NOT_APPLICABLE)


class Severity(StrEnum):
    """How bad a finding is, in the signal words of ANSI Z535, worst first."""

    DANGER = "danger"
    WARNING = "warning"
    CAUTION = "caution"
    NOTICE = "notice"

    @property
    def is_grave(self) -> bool:
        """Whether nothing is used or energised before it is mended."""
        return self in (Severity.DANGER, Severity.WARNING)
