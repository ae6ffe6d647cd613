"""Errors that a person can act on: what is wrong, where, and what to do about it."""


class ChecksError(Exception):
    """The root of every error that is meant for people.

    Parameters
    ----------
    problem : str
        What is wrong, in the trade's words, numbers with their units.
    where : str
        Station and field as the screen calls them, or the path of a field in a file.
    remedy : str
        What to do about it, as an instruction.
    """

    def __init__(self, problem: str, *, where: str, remedy: str) -> None:
        super().__init__(f"{where}: {problem}. {remedy}.")
        self.problem, self.where, self.remedy = problem, where, remedy


class OutOfTableError(ChecksError):
    """A published table has no row or column for what was asked; nothing is extrapolated."""


class NoneLargeEnoughError(OutOfTableError):
    """The largest row of a published table is too small for what was asked."""


class OutOfRangeError(ChecksError):
    """A number lies where a formula does not hold."""


class UnitError(ChecksError):
    """A unit that does not exist here, or that does not fit the quantity."""


class RecordError(ChecksError):
    """A record that is malformed or contradicts itself."""


class RecordTooNewError(RecordError):
    """A record written by a later version of the software."""


class NotAssessedError(ChecksError):
    """A record that this software fails to judge, by a fault of its own."""
