"""Bringing a circuit into a state, or finding it there: what is said, asked and recorded."""

from dataclasses import dataclass, replace
from typing import Final

from checks.check import Caution, CircuitState, state_cautions


@dataclass(frozen=True)
class Claim:
    """What a person says of the circuit, and whether it was so before they came."""

    words: str
    is_found: bool = False


@dataclass(frozen=True)
class Switching:
    """One circuit brought into one state by one person, in words.

    Parameters
    ----------
    state : CircuitState
        The state it ends in.
    title : str
        What comes next, as a key says it.
    do : tuple of str
        What to do, or what to ask.
    claims : tuple of Claim
        What may be claimed; one of them is recorded.
    cautions : tuple of Caution
        Acknowledged before the claim.
    whom : str
        The question who did it or allows it; empty where it is the technician.
    no : str
        The answer that the state is not to be had here; empty where there is none.
    """

    state: CircuitState
    title: str
    do: tuple[str, ...]
    claims: tuple[Claim, ...]
    cautions: tuple[Caution, ...] = ()
    whom: str = ""
    no: str = ""


_YOURS: Final = (
    "The lock, the switch and the decision are yours; this only records that the state was reached."
)

# A handle is not worked in what burns.
_UPSTREAM: Final = (
    "Where breaker or panel is hot, burnt or wet, leave it alone: end the charge, and have it cut "
    "off ahead of the panel."
)

_BROUGHT: Final = {
    CircuitState.DEAD: ("Make the circuit dead", "The circuit is off"),
    CircuitState.ENERGISED: ("Energise the circuit", "The circuit is energised"),
    CircuitState.UNDER_LOAD: ("Put the circuit under load", "The circuit is under load"),
}

_TOLD: Final = {
    CircuitState.DEAD: Switching(
        CircuitState.DEAD,
        "Have the circuit made dead",
        (
            "Ask who may switch here to make it dead, and to lock and tag it.",
            "Open nothing yourself: what is said to be off is not proved dead.",
        ),
        (Claim("I am told that it is off"),),
        whom="Who made it dead? Name and company",
    ),
    CircuitState.ENERGISED: Switching(
        CircuitState.ENERGISED,
        "Is the circuit live?",
        (
            "Ask whether it was proved dead, tested and then energised, and by whom.",
            "You energise nothing: where it is not live, its checks are left out.",
        ),
        (Claim("It is live already", is_found=True),),
        whom="Who proved and energised it? Name and company",
        no="It is not live",
    ),
    CircuitState.UNDER_LOAD: Switching(
        CircuitState.UNDER_LOAD,
        "May a charge be started?",
        ("Ask who answers for the charger whether a charge runs, or may be started.",),
        (
            Claim("A charge runs already", is_found=True),
            Claim("It may: a charge was started"),
        ),
        whom="Who allows it? Name and company",
        no="No charge may be started",
    ),
}

_LOAD_OFF: Final = Switching(
    CircuitState.ENERGISED,
    "Take the load off",
    (
        "End the charge at the vehicle or the charger, and wait until the current is at zero.",
        "The circuit stays energised.",
    ),
    (Claim("The charge has ended, current at zero"),),
)


def switching(state: CircuitState, *, before: CircuitState | None, opens: bool) -> Switching:
    """Return how a circuit comes into a state.

    Parameters
    ----------
    state : CircuitState
        The state that is entered.
    before : CircuitState, optional
        The state it is in; None when none was recorded.
    opens : bool
        Whether this person opens enclosures and switches.
    """
    if (before, state) == (CircuitState.UNDER_LOAD, CircuitState.ENERGISED):
        found = _LOAD_OFF
    elif opens:
        title, brought = _BROUGHT[state]
        upstream = (_UPSTREAM,) if state is CircuitState.DEAD else ()
        do = (f"{title} now.", *upstream, _YOURS)
        found = Switching(state, title, do, (Claim(brought),))
    else:
        found = _TOLD[state]
    return replace(found, cautions=state_cautions(state, before=before, opens=opens))
