"""The cautions at each entry to a circuit state."""

from typing import Final

from checks.check.declaration import Caution, CircuitState
from checks.verdict import Severity

# Asked again at each entry to a state. ANSI Z535 signal words; the words are this project's own.
STATE_CAUTIONS: Final[dict[CircuitState, tuple[Caution, ...]]] = {
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
