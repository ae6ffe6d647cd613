"""What readings under load cannot be: a part colder than its air, more current than is drawn."""

from typing import Final

from checks.check import Situation, unsettled
from checks.quantity import expanded, nominal
from checks.source import judgement
from checks.stations.circuit_facts import SIGNAL, full_current_a, signal_tolerance_a
from checks.stations.warmth.series import HeatSeries
from checks.stations.warmth.words import LIKE
from checks.verdict import Judgement, Limit

COLD_K: Final = 2.0
COLD: Final = judgement(
    "what carries current is no cooler than the air around it, but for 2 K of lag and placing"
)


def judged_at_a(s: Situation, series: HeatSeries) -> float:
    """Return the current that a rise is brought to [A].

    Full current; where clearly more flowed at the last reading, that: a rise is never made smaller
    for a current that may not be what flows here.
    """
    full_a, last_a = full_current_a(s), nominal(series.samples[-1].current_a)
    if full_a is None or last_a > full_a + signal_tolerance_a(full_a):
        return last_a
    return full_a


def cold_words(part: str, series: HeatSeries) -> str:
    """Say which part was read colder than the air, beyond the readings' errors; empty if none."""
    for name, samples in ((part, series.samples), (LIKE, series.like)):
        if samples:
            rise_k = samples[-1].temp_c - samples[-1].ambient_c
            if nominal(rise_k) + expanded(rise_k) < -COLD_K:
                cold_k = -nominal(rise_k)
                return f"Current flows, and the {name} reads {cold_k:.0f} K under the air around it"
    return ""


def too_cold(words: str, limits: tuple[Limit, ...]) -> Judgement:
    """Return the doubt about a part that was read colder than the air; see `cold_words`."""
    return unsettled(
        words,
        "Look for a wrong spot or unit, sun on the air probe, wind or bare metal, and read again",
        why="A part that is read too cold may be as hot as one that burns",
        limits=limits,
        sources=(COLD,),
    )


def beyond_full(s: Situation, series: HeatSeries, limits: tuple[Limit, ...]) -> list[Judgement]:
    """Return the doubt where more flowed than what is recorded here can draw; else nothing."""
    full_a = full_current_a(s)
    most_a = max((sample.current_a for sample in series.samples), key=nominal)
    least_a = nominal(most_a) - expanded(most_a)
    if full_a is None or least_a <= full_a + signal_tolerance_a(full_a):
        return []
    return [
        unsettled(
            f"{nominal(most_a):.0f} A flowed, and full current here is {full_a:g} A: one of them "
            "is wrong",
            "Clamp one conductor alone and read again; read the charger's setting and plate",
            why="A charger that draws more than it is set to overloads its circuit",
            limits=limits,
            sources=(SIGNAL,),
        )
    ]
