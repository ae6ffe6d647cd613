"""What a declaration may say: a check, the state that it needs, its cautions."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Final, TypeAlias

from checks.check.inputs import AnyInput, Choice, When
from checks.check.situation import Situation
from checks.path import Station
from checks.record import Chosen, Entry, VisitKind, YesNoAnswer
from checks.verdict import Judgement, Severity


class CircuitState(StrEnum):
    """The state a check needs the branch circuit to be in; work runs in this order.

    ``ANY`` is for looking and reading plates: nothing is opened that the state would matter for.
    ``NO_CURRENT`` is for a hand on a coupler: no charge is running.
    """

    ANY = "any state"
    NO_CURRENT = "no current"
    DEAD = "dead and proved"
    ENERGISED = "energised"
    UNDER_LOAD = "under load"

    @property
    def demand(self) -> str:
        """Say what must hold of the circuit; empty where nothing must."""
        if self is CircuitState.ANY:
            return ""
        if self is CircuitState.NO_CURRENT:
            return "no current may flow"
        return f"the circuit must be {self}"


LIVE_STATES: Final = (CircuitState.ENERGISED, CircuitState.UNDER_LOAD)
STATE_ORDER: Final = (CircuitState.DEAD, *LIVE_STATES)


@dataclass(frozen=True)
class Caution:
    """A caution with its signal word; shown and acknowledged before an entry can be made."""

    signal: Severity
    text: str


Judge: TypeAlias = Callable[[Situation], Judgement]
Applies: TypeAlias = Callable[[Situation], str]
Undone: TypeAlias = Callable[[Situation], int]


def always(_: Situation) -> str:
    """Apply to every installation."""
    return ""


def never(_: Situation) -> int:
    """Return that nothing undoes it."""
    return 0


@dataclass(frozen=True)
class Check:
    """All there is to know about a check; walk, screen, assessment and report follow from it.

    Parameters
    ----------
    id : str
        Identity, ``station.subject``.
    title : str
        What it is called.
    how : str
        What to do, as an instruction.
    inputs : tuple
        What is seen or measured.
    judge : callable
        From what was recorded to a judgement. With inputs missing it returns ``not measured`` and
        still fills in the limits, so that they are in view before the number is typed.
    state : CircuitState
        What the branch circuit must be in.
    opens : bool
        Needs an enclosure to be opened or a conductor to be loosened: not for who only inspects.
    gates : bool
        Must stand (made, and not ``outside``) before the next circuit state opens.
    proves : bool
        Must be made anew each time the circuit is brought into its state, before anything else
        there: lock and tag, absence of voltage.
    needs : tuple of str
        Checks that must stand (made where they apply, and not ``outside``) before this one may be
        made: no current through a coupler that does not seat. One that is made dead stands only
        until a circuit of the panel is switched.
    loads_all : bool
        Has every charging point that its station feeds charge at once, that of a point every one of
        the site: made once each of the others is live and ready for a load.
    touches : bool
        A hand goes on charger, cable or coupler: on a live circuit only once the volts on the
        enclosure were read.
    kinds : tuple of VisitKind
        The visits it belongs to.
    applies : callable
        Empty text where it applies to this installation, else the reason why it does not.
    cautions : tuple of Caution
        Shown and acknowledged before the entry.
    ends : bool
        Made last in its state: what other checks of that state take apart and put together again.
    undone : callable
        The number of the last entry that took apart what was made here: an older one is owed again.
    closes : bool
        Asked once nothing else is open: what is said of the work as a whole.
    tells : bool
        Its judgement gives the station its telling number.
    quantity : str
        What its number is, in a word or two, where the number stands alone; without it the title
        says so.
    no_limit_because : str
        Why the judge reads no limit, no second entry and nothing of the installation, if so.
    """

    id: str
    title: str
    how: str
    inputs: tuple[AnyInput, ...]
    judge: Judge
    state: CircuitState = CircuitState.ANY
    opens: bool = False
    gates: bool = False
    proves: bool = False
    needs: tuple[str, ...] = ()
    loads_all: bool = False
    touches: bool = False
    kinds: tuple[VisitKind, ...] = tuple(VisitKind)
    applies: Applies = always
    cautions: tuple[Caution, ...] = ()
    ends: bool = False
    undone: Undone = never
    closes: bool = False
    tells: bool = False
    quantity: str = ""
    no_limit_because: str = ""

    @property
    def station(self) -> Station:
        """The station it belongs to."""
        return Station(self.id.split(".", 1)[0])

    @property
    def demand(self) -> str:
        """Say what must hold of the circuit; what proves it dead needs it off and no more."""
        return "the circuit must be off" if self.proves else self.state.demand

    def input(self, name: str) -> AnyInput | None:
        """Return one of its inputs by name."""
        return next((i for i in self.inputs if i.name == name), None)

    def not_here_because(self, situation: Situation) -> str:
        """Return why it does not belong to this visit, role or installation; empty when it does."""
        visit = situation.visit
        if visit.kind not in self.kinds:
            return f"not part of a {visit.kind}"
        if self.opens and not visit.role.opens:
            return "needs an enclosure opened, and who inspects opens nothing"
        if self.state is CircuitState.DEAD and not visit.role.opens:
            return "needs the circuit proved dead, and who inspects opens nothing to prove it"
        return self.applies(situation)

    def at(self, situation: Situation) -> "Check":
        """Return the check with the inputs and options that this installation has something for."""
        here = tuple(_at(i, situation) for i in self.inputs if i.where(situation))
        return self if here == self.inputs else replace(self, inputs=here)

    def asked(self, entry: Entry | None) -> tuple[AnyInput, ...]:
        """Return the inputs to ask, given what has been answered so far."""
        asked: dict[str, AnyInput] = {}
        for i in self.inputs:  # one that hangs on a question which is not asked is not asked either
            if i.when is None or (i.when.input in asked and _met(i.when, entry)):
                asked[i.name] = i
        return tuple(asked.values())

    def missing(self, entry: Entry | None) -> tuple[AnyInput, ...]:
        """Return the inputs that are asked, not optional, and not answered."""
        if self.is_ended(entry):
            return ()
        return tuple(
            i
            for i in self.asked(entry)
            if not i.optional and (entry is None or entry.answer(i.name) is None)
        )

    def is_ended(self, entry: Entry | None) -> bool:
        """Whether an option was picked, or a danger answered, after which nothing more is asked.

        Once a danger was answered the circuit is off, or nobody is near it: what is still open of a
        check that needs it live is not read, and nobody switches it on for that. A danger without
        an answer that tells of it ends nothing.
        """
        is_danger = entry is not None and entry.danger is not None and bool(entry.answers)
        if is_danger and self.state in LIVE_STATES:
            return True
        picked = (
            {(a.input, a.option) for a in entry.answers if isinstance(a, Chosen)}
            if entry
            else set()
        )
        return any(
            (i.name, o.value) in picked
            for i in self.inputs
            if isinstance(i, Choice)
            for o in i.options
            if o.ends
        )


def _at(asked: AnyInput, situation: Situation) -> AnyInput:
    if not isinstance(asked, Choice):
        return asked
    here = (o for o in asked.options if o.where(situation))
    options = tuple(o if o.needs_where(situation) else replace(o, needs=()) for o in here)
    return replace(asked, options=options)


def _met(when: When, entry: Entry | None) -> bool:
    found = None if entry is None else entry.answer(when.input)
    if isinstance(found, YesNoAnswer):
        return ("yes" if found.yes else "no") in when.answers
    return isinstance(found, Chosen) and found.option in when.answers
