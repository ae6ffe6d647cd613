"""The cautions at each entry to a circuit state, by who enters it and from where."""

from typing import Final

from checks.check.declaration import Caution, CircuitState
from checks.verdict import Severity

# Asked again at each entry to a state, of who switches. ANSI Z535 signal words; own words.
_CAUTIONS: Final[dict[CircuitState, tuple[Caution, ...]]] = {
    CircuitState.DEAD: (
        Caution(
            Severity.DANGER,
            "Shock and arc flash can kill. Only a qualified person opens enclosures, under the "
            "local rules for isolation, with the protective equipment they ask for.",
        ),
        Caution(
            Severity.WARNING,
            "Line-side terminals stay live with the branch breaker off. Keep covers and barriers "
            "over them. A solar or battery source can feed from the load side.",
        ),
    ),
    CircuitState.ENERGISED: (
        Caution(
            Severity.DANGER,
            "The circuit becomes live. Close covers first, keep people away from the outlet and "
            "the cable, and put probes on guarded access points only.",
        ),
        Caution(
            Severity.WARNING,
            "If a breaker or ground-fault device trips, leave it off and find the cause first.",
        ),
    ),
    CircuitState.UNDER_LOAD: (
        Caution(
            Severity.DANGER,
            "Current flows for minutes. On smell, smoke, discoloration or a fast rise of "
            "temperature, stop the current from a safe point: the vehicle, the charger or the "
            "breaker.",
        ),
        Caution(
            Severity.WARNING,
            "Pull no plug, connector or adapter while current flows, and hold none that is hot.",
        ),
    ),
}

# For who opens nothing: somebody else switched, and nothing here proves what is said.
_TOLD_CAUTIONS: Final[dict[CircuitState, tuple[Caution, ...]]] = {
    CircuitState.DEAD: (
        Caution(
            Severity.DANGER,
            "What is said to be off is not proved dead: treat it as live, open nothing, and touch "
            "no bare part.",
        ),
    ),
    CircuitState.ENERGISED: (
        Caution(
            Severity.DANGER,
            "The circuit is live. Open nothing, keep people away from the outlet and the cable, "
            "and put probes on guarded access points only.",
        ),
        Caution(
            Severity.WARNING,
            "If a breaker or ground-fault device trips, leave it off and have the cause found "
            "first.",
        ),
    ),
}

_LOAD_OFF_CAUTIONS: Final = (
    Caution(
        Severity.WARNING,
        "Only the charge has ended: the circuit stays live. End it at the vehicle or the charger, "
        "and pull no plug or connector before the current is at zero.",
    ),
)


# Before a hand goes on a charger whose circuit is not proved dead, its enclosure unread.
CASE_UNREAD: Final = Caution(
    Severity.WARNING,
    "Where the circuit may be live, read the volts on the charger's case to another ground before "
    "a hand is on charger, post, cable or coupler.",
)
# Before a check at a place where another one found a danger, unless the circuit is dead.
DANGER_STANDS: Final = Caution(
    Severity.DANGER,
    "A danger was found here and stands. Touch and open nothing; look only from where it is safe, "
    "or leave this out.",
)


def state_cautions(
    state: CircuitState, *, before: CircuitState | None, opens: bool
) -> tuple[Caution, ...]:
    """Return the cautions at an entry to a circuit state.

    Parameters
    ----------
    state : CircuitState
        The state that is entered.
    before : CircuitState, optional
        The state the circuit was in; None when none was recorded.
    opens : bool
        Whether this person opens enclosures and switches.
    """
    if (before, state) == (CircuitState.UNDER_LOAD, CircuitState.ENERGISED):
        return _LOAD_OFF_CAUTIONS
    return _CAUTIONS[state] if opens else _TOLD_CAUTIONS.get(state, _CAUTIONS[state])
