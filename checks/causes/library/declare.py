"""How a cause is written down: its evidence by clue, and what it leaves as it usually is."""

from typing import Final

from checks.causes.cause import Cause, Evidence, Proof
from checks.causes.clues import CLUES
from checks.check import Where, everywhere
from checks.path import Station
from checks.source import Source, judgement
from checks.stations.observing import PANEL_DEAD
from checks.verdict import Severity

# How often the normal outcome of a symptom is found with a cause that does not make it: there may
# always be a second thing that the owner tells of. [-]
BACKGROUND: Final = {
    "trips": 0.95,
    "ground_fault_opens": 0.96,
    "starts": 0.94,
    "stops": 0.93,
    "slow": 0.95,
    "offline": 0.98,
    "stuck": 0.99,
    "outlet_marks": 0.97,
    "burn_place": 0.98,
}
# What must stand before a hand goes where heat may have reached bus and breaker.
LOOKED_INTO: Final = (*PANEL_DEAD, "panel.terminals", "breaker.joints")
# What is found with a cause at the site, and not with one of the vehicle. [-]
SITE_FAULT: Final = {"other_vehicles": ("same", 0.95), "elsewhere": ("fine", 0.95)}
WHOSE: Final = judgement("a fault of the site meets every vehicle, and stays there")
ELSEWHERE: Final = judgement("a cause makes its own symptoms; another's are there by chance")
WHERE: Final = judgement("what carried the current through a bad joint is burnt deepest there")
CRACK: Final = judgement(
    "common practice, no source: a coupler that was dropped or driven over lets water in, bends "
    "its pins and holds its latch no longer"
)
SEEN: Final = judgement("weighed by experience on site, not counted")


def says(clue: str, basis: Source = SEEN, **ratios: float) -> tuple[Evidence, ...]:
    """Return the evidence of one clue: the ratio of each outcome that is spoken of. [-]."""
    return tuple(Evidence(clue, outcome, ratio, basis) for outcome, ratio in ratios.items())


def cause(
    name: str,
    title: str,
    station: Station,
    weight: float,
    *evidence: tuple[Evidence, ...],
    proof: tuple[str, ...],
    explanation: str,
    remedy: str,
    verify: tuple[str, ...],
    severity: Severity,
    needs: tuple[str, ...] = (),
    needs_where: Where = everywhere,
    where: Where = everywhere,
) -> Cause:
    """Return a cause; symptoms it says nothing of are there by chance only.

    Parameters
    ----------
    name, title, station, weight, explanation, remedy, verify, severity, needs, needs_where, where
        As of a `Cause`.
    *evidence : tuple of Evidence
        From `says`, one a clue.
    proof : tuple of str
        ``clue=outcome``, each of which proves it.
    """
    told = [one for each in evidence for one in each]
    spoken = {one.clue for one in told}
    for clue in CLUES:
        if clue.id in BACKGROUND and clue.id not in spoken:
            ratio = BACKGROUND[clue.id] / clue.outcome(clue.normal).usual
            told.append(Evidence(clue.id, clue.normal, ratio, ELSEWHERE))
        if clue.id in SITE_FAULT and clue.id not in spoken and station is not Station.VEHICLE:
            outcome, share = SITE_FAULT[clue.id]
            told.append(Evidence(clue.id, outcome, share / clue.outcome(outcome).usual, WHOSE))
    proofs = tuple(Proof(*each.split("=", 1)) for each in proof)
    return Cause(
        name,
        title,
        station,
        weight,
        tuple(told),
        proofs,
        explanation,
        remedy,
        verify,
        severity,
        needs,
        needs_where,
        where,
    )
