"""What is assumed where nobody read it: warmth and ohms of metal, sound joints, the supply."""

from math import exp
from typing import Final

from uncertainties import ufloat

from checks.electrical.hidden_resistance import metal_loop_ohm
from checks.quantity import SQRT_3, nominal
from checks.source import judgement
from checks.units import Number

TABLE_RISE_K: Final = 45.0  # an ampacity of the 75 °C column holds in air of 30 °C
LEAST_RISE_RATIO: Final = 0.3  # of the rise by the table: its ampacities lie on the safe side
MOST_RISE_RATIO: Final = 1.1
QUICKEST_MIN: Final = 3.0  # time constant of a conductor in free air ...
SLOWEST_MIN: Final = 30.0  # ... and in insulation
AIR_SPREAD_K: Final = 10.0
WARMTH: Final = judgement(
    "conductors warm by 0.3 to 1.1 of what their ampacity in the 75 °C column allows for, with a "
    "time constant of 3 to 30 minutes, in air within 10 K of that at the outlet"
)

METAL_SPREAD_RATIO: Final = 0.02
METAL: Final = judgement(
    "a conductor's ohms lie within 2 % of its size's: maker's tolerance, lay, power factor"
)

SUPPLY_OHM: Final = (0.010, 0.100)
SUPPLY_LEGS_OHM: Final = 0.015
SUPPLY: Final = judgement(
    "without volts at the panel the supply up to it is taken to have 10 to 100 mΩ; without those "
    "of each leg, its legs are taken to be equal within 15 mΩ"
)

TERMINAL_OHM: Final = (0.0001, 0.0005)  # a torqued terminal
CONTACT_OHM: Final = (0.0005, 0.002)  # a blade in a tight contact
SOUND: Final = judgement(
    "a torqued terminal has 0.1 to 0.5 mΩ, a blade in a tight contact 0.5 to 2 mΩ"
)


def conductor_temp_c(
    ambient_c: Number, current_a: Number, ampacity_a: float, minutes: float | None = None
) -> Number:
    """Estimate a conductor's temperature from its load and the air, with its own uncertainty.

    Parameters
    ----------
    ambient_c : Number
        Air at the outlet. [°C]
    current_a : Number
        Load current. [A]
    ampacity_a : float
        Ampacity of the size in the 75 °C column, before corrections. [A]
    minutes : float, optional
        Time under this load; without it, any. [min]

    Returns
    -------
    Number
        Conductor temperature. [°C]

    References
    ----------
    Rise with the square of the current below the rise that the ampacity table is made for (NEC
    2023 table 310.16: 75 °C in 30 °C); its share and time constants are judgement.
    """
    steady_k = TABLE_RISE_K * (nominal(current_a) / ampacity_a) ** 2
    least_k, most_k = 0.0, MOST_RISE_RATIO * steady_k
    if minutes is not None:
        least_k = LEAST_RISE_RATIO * steady_k * (1 - exp(-minutes / SLOWEST_MIN))
        most_k *= 1 - exp(-minutes / QUICKEST_MIN)
    spread_k = max((most_k - least_k) / 2, 0.1)
    air_c = ambient_c + ufloat(0.0, AIR_SPREAD_K / SQRT_3)
    return air_c + ufloat((least_k + most_k) / 2, spread_k / SQRT_3)


def explained_ohm(size: str, material: str, length_m: Number, temp_c: Number) -> Number:
    """Loop resistance that the metal of the run explains, with the tolerance of the metal.

    Parameters
    ----------
    size : str
        Conductor size, such as ``"6 AWG"``. [-]
    material : str
        ``"copper"`` or ``"aluminum"``. [-]
    length_m : Number
        Length along the run, one way, with its tolerance. [m]
    temp_c : Number
        Conductor temperature. [°C]

    Returns
    -------
    Number
        Resistance of both conductors with sound joints left out. [Ω]

    References
    ----------
    As ``metal_loop_ohm``; tolerance of 2 % is judgement.
    """
    metal_ohm = metal_loop_ohm(size, material, length_m, temp_c)
    return metal_ohm * ufloat(1.0, METAL_SPREAD_RATIO / SQRT_3)


def sound_joints_ohm(*, terminals: int, contacts: int) -> Number:
    """Resistance of sound joints in the loop.

    Parameters
    ----------
    terminals : int
        Screwed terminals on both conductors. [-]
    contacts : int
        Blades in contacts on both conductors. [-]

    Returns
    -------
    Number
        Their sum; how good they are is taken to be common to all. [Ω]

    References
    ----------
    Orders of size of sound joints, judgement.

    Examples
    --------
    Four terminals and two blades, 1.4 to 6 mΩ:

    >>> round(nominal(sound_joints_ohm(terminals=4, contacts=2)), 5)
    0.0037
    """
    least = terminals * TERMINAL_OHM[0] + contacts * CONTACT_OHM[0]
    most = terminals * TERMINAL_OHM[1] + contacts * CONTACT_OHM[1]
    return _between(least, most)


def assumed_supply_ohm() -> Number:
    """Loop resistance up to the panel where nobody read it.

    Returns
    -------
    Number
        Resistance. [Ω]

    References
    ----------
    10 to 100 mΩ, judgement.

    Examples
    --------
    >>> round(nominal(assumed_supply_ohm()), 3)
    0.055
    """
    return _between(*SUPPLY_OHM)


def _between(least: float, most: float) -> Number:
    return ufloat((least + most) / 2, (most - least) / 2 / SQRT_3)
