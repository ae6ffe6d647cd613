"""One check against the outside: a value re-typed from a document, and what this project says."""

from collections.abc import Callable
from dataclasses import dataclass

from checks.codes import profile
from checks.codes.profile import CodeProfile


@dataclass(frozen=True)
class Case:
    """One row.

    ``document`` names document, edition, clause or cell, and the basis when it was not read.
    ``tolerance`` is half the last printed digit unless a comment gives another reason; 0 asks for
    equality. ``is_worked`` marks an example that the document itself works through.
    """

    subject: str
    document: str
    actual: Callable[[], object]
    expected: object
    tolerance: float = 0.0
    is_worked: bool = False

    def agrees(self) -> bool:
        actual = self.actual()
        if not self.tolerance:
            return actual == self.expected
        assert isinstance(actual, float | int)
        assert isinstance(self.expected, float | int)
        return abs(actual - self.expected) <= self.tolerance * (1 + 1e-9)


def nec() -> CodeProfile:
    """Return the profile as it is now, so that a changed one is seen."""
    return profile("nec_2023")


def cec() -> CodeProfile:
    """Return the other profile as it is now."""
    return profile("cec_2021")


def feet(length_ft: float) -> float:
    """Length in meters; 1 ft = 0.3048 m exactly (NIST SP 811)."""
    return length_ft * 0.3048
