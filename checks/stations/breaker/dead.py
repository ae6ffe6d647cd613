"""The circuit made dead: locked and tagged, and the absence of voltage proved."""

from typing import Final

from checks.check import Caution, Check, CircuitState, Situation, YesNo, together
from checks.source import trade
from checks.stations.observing import Sign, signs_of
from checks.stations.proving import proved_dead, proving_inputs, proving_parts
from checks.verdict import Judgement, Severity

LOCKOUT: Final = trade("lock, tag and one key with the person who works, as electrical safety asks")
SOURCES: Final = trade("every source that can feed the circuit is isolated, not the utility alone")

LOCK_SIGNS: Final = (
    Sign(
        YesNo("is_off", "Charge ended, breaker off", good=True, says=("Ended and off", "Not off")),
        LOCKOUT,
        "The breaker is not off",
        "A circuit that can be on is not dead",
        "End the charge at the vehicle, then switch the breaker off",
        Severity.DANGER,
    ),
    Sign(
        YesNo("is_locked", "Lock on the breaker", good=True, says=("Locked", "No lock")),
        LOCKOUT,
        "No lock holds the breaker off",
        "Anyone may switch it on while hands are in the circuit",
        "Fit a breaker lock; where none fits, leave the circuit closed and get the fitting lock",
        Severity.DANGER,
    ),
    Sign(
        YesNo("is_tagged", "Tag with name and date", good=True, says=("Tagged", "No tag")),
        LOCKOUT,
        "No tag says who works here",
        "A lock without a name gets cut off",
        "Hang a tag with your name, the date and how to reach you",
        Severity.WARNING,
    ),
    Sign(
        YesNo("is_key_kept", "The only key is with me", good=True, says=("With me", "Elsewhere")),
        LOCKOUT,
        "The key is not with the person who works",
        "Whoever holds the key can end the protection",
        "Keep the only key on you until the work is closed",
        Severity.DANGER,
    ),
)
OTHER_SOURCES: Final = Sign(
    YesNo(
        "are_sources_isolated",
        "Every other source isolated",
        good=True,
        help="Solar, battery, generator, exporting vehicle: isolated and locked. Yes as well where "
        "you looked and there is none",
    ),
    SOURCES,
    "Another source can still feed this circuit",
    "A battery, an inverter or an exporting vehicle keeps a circuit alive with the main off",
    "Isolate and lock every source that is recorded at the service, and unplug the vehicle",
    Severity.DANGER,
)


def _judge_lock(s: Situation) -> Judgement:
    parts = signs_of(s, "breaker.lock_and_tag", (*LOCK_SIGNS, OTHER_SOURCES))
    return together(
        parts,
        good=f"Breaker off, locked and tagged; the key is with the worker; {_other_sources(s)}",
    )


def _other_sources(s: Situation) -> str:
    present = s.yes("service.other_sources.is_present")
    if present is None:
        return "other sources isolated, though not yet recorded at the service"
    return "the other source is isolated" if present else "no other source feeds the service"


def _judge_absence(s: Situation) -> Judgement:
    return proved_dead(proving_parts(s, "breaker.absence_of_voltage"))


CHECKS: Final = (
    Check(
        id="breaker.lock_and_tag",
        title="Lock and tag",
        how="End the charge at the vehicle and unplug it. Switch the breaker off, fit the lock, "
        "hang the tag, keep the key. Look for other sources, and isolate and lock each.",
        inputs=(*(sign.input for sign in LOCK_SIGNS), OTHER_SOURCES.input),
        judge=_judge_lock,
        state=CircuitState.DEAD,
        opens=True,
        gates=True,
        proves=True,
        cautions=(
            Caution(
                Severity.DANGER,
                "Off is not dead. No cover comes off before it is locked and tagged, and no "
                "conductor is touched before it is proved.",
            ),
        ),
    ),
    Check(
        id="breaker.absence_of_voltage",
        title="Absence of voltage",
        quantity="Highest pair",
        how="Prove the meter on a known source. At the outlet, and again wherever you will touch "
        "this circuit, test each line to each other line, to neutral and to ground. Prove the "
        "meter again. Enter the highest reading of all pairs.",
        inputs=proving_inputs(
            "contacts or terminals of the outlet, and wherever you will touch this circuit"
        ),
        judge=_judge_absence,
        state=CircuitState.DEAD,
        opens=True,
        gates=True,
        proves=True,
        cautions=(
            Caution(
                Severity.DANGER,
                "Treat every conductor as live until this test stands, and wear what the hazard "
                "asks for. Behind the panel's cover bus and line side stay live.",
            ),
        ),
    ),
)
