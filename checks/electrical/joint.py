"""The loose joint before it burns: resistance beyond the metal, on which leg, and its heat."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from uncertainties import ufloat

from checks.electrical.assumed_ohms import SUPPLY_LEGS_OHM, assumed_supply_ohm
from checks.electrical.hidden_resistance import excess_ohm, heat_w
from checks.electrical.load_line import Circuit, LoadLine, Ohms
from checks.quantity import COVERAGE, SQRT_3, expanded, nominal
from checks.source import judgement
from checks.units import Number

REACTANCE_OHM_PER_M: Final = 0.19e-3
REACTANCE: Final = judgement(
    "a conductor has at most 0.19 mΩ/m of reactance; on two legs of a 208Y/120 V supply it makes "
    "one leg look better than the other"
)

JOINT_W: Final = 10.0
JOINT: Final = judgement("10 W in one place heats a joint until it burns")
# Up to this heat [W]: what an owner knows that takes about as much.
HEAT_WORDS: Final = (
    (2.0, "a night light"),
    (8.0, "a small lamp"),
    (25.0, "a bright lamp"),
    (80.0, "a soldering iron"),
    (300.0, "an electric blanket"),
    (float("inf"), "a flat iron"),
)

SURE_COVERAGE: Final = (
    2.5  # standard uncertainties beyond sound joints before a joint is called bad
)
LEG_COVERAGE: Final = 3.0  # standard uncertainties apart before a leg is named
UNSEEN_STEP_V: Final = 3.0  # what another load may do between two readings that nobody repeats


class NextReading(StrEnum):
    """A reading that would tell more, as an instruction."""

    PANEL = "read volts at the panel as well, without and with load"
    LEGS = "read each leg to neutral, or to ground where there is no neutral"
    NEUTRAL = "read neutral to ground at the outlet under load: it shows the neutral's own drop"
    MORE_CURRENT = "repeat at full current, or in two steps of current"
    STEADY = "repeat when the supply is quiet, panel and outlet within a minute"
    DEAD_OHMS = "with the circuit dead, locked and proved, measure milliohms across each joint"
    LIKE_PARTS = "under load compare the temperature of like parts from outside"
    ACROSS = (
        "only at a guarded access point or a listed break-out lead, by a person qualified for "
        "energised work, with leads of CAT III or more and protective equipment: millivolts "
        "across one part"
    )


@dataclass(frozen=True)
class Joint:
    """What panel and outlet have between them that the metal does not explain.

    Parameters
    ----------
    line : LoadLine
        The fit it comes from.
    supply_ohm : Number
        Up to the panel, measured or assumed. [Ω]
    branch_ohm : Number
        From there to the outlet, both conductors. [Ω]
    metal_ohm : Number
        What the metal explains of it. [Ω]
    sound_ohm : Number
        What sound joints have. [Ω]
    legs_ohm : tuple of Number, optional
        What the metal does not explain on each conductor, where the readings tell them apart. [Ω]
    leg : str
        The conductor that has more of it; empty where the readings do not show one.
    """

    line: LoadLine
    supply_ohm: Number
    branch_ohm: Number
    metal_ohm: Number
    sound_ohm: Number
    legs_ohm: tuple[Number, Number] | None
    leg: str

    @property
    def excess_ohm(self) -> Number:
        """Resistance that the metal does not explain, sound joints included. [Ω]."""
        return excess_ohm(self.branch_ohm, self.metal_ohm)

    @property
    def hidden_ohm(self) -> Number:
        """Resistance that neither metal nor sound joints explain. [Ω]."""
        return self.excess_ohm - self.sound_ohm

    @property
    def is_sure(self) -> bool:
        """Whether the readings show more than metal and sound joints."""
        return nominal(self.hidden_ohm) > SURE_COVERAGE * expanded(self.hidden_ohm) / COVERAGE

    @property
    def is_plausible(self) -> bool:
        """Whether there is as much resistance as the metal of the run has at the least."""
        return nominal(self.excess_ohm) + expanded(self.excess_ohm) >= 0

    def test_heat_w(self) -> Number:
        """Heat of the hidden resistance during the test; the clamp's gain counts once. [W]."""
        return heat_w(self.hidden_ohm, self.line.current_a)

    def full_heat_w(self, full_a: float) -> Number:
        """Heat of the hidden resistance at full current, if it is all in one place. [W]."""
        return heat_w(self.hidden_ohm, full_a)

    def most_heat_w(self, full_a: float) -> float:
        """Heat at full current that the readings do not rule out. [W]."""
        heat = self.full_heat_w(full_a)
        return max(0.0, nominal(heat) + expanded(heat))

    def next_readings(self, full_a: float) -> tuple[NextReading, ...]:
        """Return the readings that would tell more, the easiest first; of a joint that burns, dead.

        Nobody puts more current through such a joint to learn more of it.
        """
        heat = self.full_heat_w(full_a)
        burns = self.is_sure and nominal(heat) - expanded(heat) > JOINT_W
        wanted = {
            NextReading.PANEL: self.line.supply is None,
            NextReading.LEGS: not self.leg and self.line.circuit is not Circuit.SINGLE,
            NextReading.NEUTRAL: self.legs_ohm is None and self.line.circuit is Circuit.SINGLE,
            NextReading.STEADY: self.line.moved or self.line.tapered,
            NextReading.MORE_CURRENT: not burns and nominal(self.line.current_a) < 0.8 * full_a,
            NextReading.LIKE_PARTS: True,
            NextReading.DEAD_OHMS: True,
            NextReading.ACROSS: True,
        }
        if self.legs_ohm is not None:
            wanted[NextReading.LEGS] = False
        asked = [reading for reading, is_wanted in wanted.items() if is_wanted]
        return tuple(sorted(asked, key=lambda each: burns and each is not NextReading.DEAD_OHMS))


def find_joint(
    line: LoadLine, metal_ohm: Number, sound_ohm: Number, *, length_m: float = 0.0
) -> Joint:
    """Take what the metal explains from what was found between panel and outlet.

    Parameters
    ----------
    line : LoadLine
        Fit of the readings. [-]
    metal_ohm : Number
        Loop resistance of the metal. [Ω]
    sound_ohm : Number
        Loop resistance of sound joints. [Ω]
    length_m : float
        Length of the run, for the reactance on a 208Y/120 V supply. [m]

    Returns
    -------
    Joint
        Excess, leg and heat. [Ω]

    References
    ----------
    Ohm's law; Kirchhoff's laws.
    """
    supply = _assumed_supply(line) if line.supply is None else _with_legs(line, line.supply)
    loop_ohm = line.outlet.loop_ohm - supply.loop_ohm
    joint = Joint(line, supply.loop_ohm, loop_ohm, metal_ohm, sound_ohm, None, "")
    if line.outlet.legs_ohm is None or supply.legs_ohm is None:
        return joint
    reactance_ohm = _leg_reactance_ohm(line, length_m)
    legs_ohm = (
        line.outlet.legs_ohm[0] - supply.legs_ohm[0] - metal_ohm / 2 + reactance_ohm,
        line.outlet.legs_ohm[1] - supply.legs_ohm[1] - metal_ohm / 2 - reactance_ohm,
    )
    leg = _leg(legs_ohm, joint) if nominal(joint.excess_ohm) > expanded(joint.excess_ohm) else ""
    return Joint(line, supply.loop_ohm, loop_ohm, metal_ohm, sound_ohm, legs_ohm, leg)


def _leg(legs_ohm: tuple[Number, Number], joint: Joint) -> str:
    """Name the conductor that has more than sound joints could make of it."""
    uneven_ohm = ufloat(0.0, max(expanded(joint.sound_ohm), 1e-6) / 2)
    difference_ohm = legs_ohm[0] - legs_ohm[1] + uneven_ohm
    least_ohm = LEG_COVERAGE * expanded(difference_ohm) / COVERAGE
    if not joint.line.repeated:
        least_ohm = max(least_ohm, UNSEEN_STEP_V / nominal(joint.line.current_a))
    if abs(nominal(difference_ohm)) < least_ohm:
        return ""
    return joint.line.circuit.conductors[0 if nominal(difference_ohm) > 0 else 1]


def _leg_reactance_ohm(line: LoadLine, length_m: float) -> Number:
    """Return what reactance adds to one leg of a wye and takes from the other, sign unknown."""
    if line.circuit is not Circuit.WYE or length_m <= 0:
        return 0.0
    return ufloat(0.0, REACTANCE_OHM_PER_M * length_m / SQRT_3)  # tan 30° of the reactance


def _assumed_supply(line: LoadLine) -> Ohms:
    loop_ohm = assumed_supply_ohm()
    if line.circuit is Circuit.WYE:  # the transformer's reactance would look like a worse leg
        return Ohms(loop_ohm)
    if line.circuit is Circuit.SINGLE:
        return Ohms(loop_ohm, (loop_ohm, 0.0))
    return _with_legs(line, Ohms(loop_ohm))


def _with_legs(line: LoadLine, supply: Ohms) -> Ohms:
    """Return the supply with its legs: as measured, else equal but for what supplies differ by."""
    if supply.legs_ohm is not None or line.circuit is not Circuit.SPLIT:
        return supply
    uneven_ohm = ufloat(0.0, SUPPLY_LEGS_OHM / SQRT_3) / 2
    half_ohm = supply.loop_ohm / 2
    return Ohms(supply.loop_ohm, (half_ohm + uneven_ohm, half_ohm - uneven_ohm))


def heat_in_words(power_w: float) -> str:
    """Compare a heat with something that an owner knows.

    Parameters
    ----------
    power_w : float
        Heat. [W]

    Returns
    -------
    str
        A phrase that follows "about as much power as". [-]

    References
    ----------
    Powers of household things, common practice, no source.

    Examples
    --------
    >>> heat_in_words(12.0)
    'a bright lamp'
    """
    return next(words for most, words in HEAT_WORDS if power_w < most)
