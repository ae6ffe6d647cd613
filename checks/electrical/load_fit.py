"""One fit of all readings of a load test gives each resistance: V = E - I R, on a moving supply."""

from collections.abc import Iterable, Mapping, Sequence
from math import log
from typing import Final, TypeAlias

from uncertainties import ufloat

from checks.electrical.least_squares import apply, covariance, estimator, log_evidence, shares
from checks.electrical.load_line import Between, Circuit, LoadLine, LoadReading, Ohms, Place
from checks.electrical.supply_walk import USUAL_WALK_V, WYE_PART, Hypothesis, SupplyWalk
from checks.errors import OutOfRangeError
from checks.quantity import SQRT_3, expanded, nominal
from checks.units import Number

SAME_STEP_RATIO: Final = 0.15  # currents within this belong to one step of load
WYE_TURN_RATIO: Final = 0.03  # of a leg's drop: the legs of a wye turn a little under load
LEAST_ERROR_V: Final = 1e-4  # keeps exact readings solvable
MOVED_SHARE: Final = 0.5  # of the evidence speaks for a step of the supply
LEFT_OUT: Final = 0.025  # less likely than this: outside what an interval of 95 % covers

Row: TypeAlias = dict[str, float]
Matrix: TypeAlias = list[list[float]]


def load_line(circuit: Circuit, readings: Iterable[LoadReading]) -> LoadLine:
    """Fit resistances to all readings at once: V = E - I R at each place and on each leg.

    Readings that should agree (panel and outlet without load, two legs and their sum) correct each
    other as far as their errors hang together, so one meter's gain error and two meters' different
    ones are both honored. How much the supply moved is taken from the same disagreement.

    Parameters
    ----------
    circuit : Circuit
        What the load hangs between. [-]
    readings : iterable of LoadReading
        Volts without and with load, in any order. [V, A, s]

    Returns
    -------
    LoadLine
        Resistances up to outlet and panel. [Ω]

    Raises
    ------
    OutOfRangeError
        No reading without load, none with, or none at the outlet between the loaded conductors.

    References
    ----------
    Ohm's law; Aitken 1935, generalized least squares; Patterson and Thompson 1971, restricted
    likelihood (from memory).

    Examples
    --------
    6 V lost at 30 A, of which 2 V before the panel:

    >>> read = [(Place.PANEL, 240.0, 0.0), (Place.PANEL, 238.0, 30.0)]
    >>> read += [(Place.OUTLET, 240.0, 0.0), (Place.OUTLET, 234.0, 30.0)]
    >>> found = load_line(
    ...     Circuit.SPLIT, [LoadReading(p, Between.BOTH, 0.0, v, i) for p, v, i in read]
    ... )
    >>> round(nominal(found.branch.loop_ohm), 4)
    0.1333
    """
    return _Fit(circuit, tuple(sorted(readings, key=lambda each: each.at_s))).line()


class _Fit:
    """Readings as rows of a straight model, by the names of its parameters.

    E1, E2, E: volts without load; T1, T2, T: resistance up to the outlet; S1, S2, S: up to the
    panel; of each leg where the readings tell legs apart, else of the loop.
    """

    def __init__(self, circuit: Circuit, readings: Sequence[LoadReading]) -> None:
        self.circuit = circuit
        self.has_legs = self._tells_legs(readings, Place.OUTLET)
        self.panel_legs = self.has_legs and self._tells_legs(readings, Place.PANEL)
        self.readings = [each for each in readings if self._fits(each)]
        self._refuse_what_is_missing()
        self.rows = [self._row(each) for each in self.readings]
        self.names = sorted({name for row in self.rows for name in row})
        self.model = [[row.get(name, 0.0) for name in self.names] for row in self.rows]
        self.walk = SupplyWalk(circuit, self.readings, self.has_legs)
        self.turns = {each: ufloat(0.0, WYE_TURN_RATIO / SQRT_3) for each in Between}

    def _tells_legs(self, readings: Sequence[LoadReading], place: Place) -> bool:
        loaded = {r.between for r in readings if r.place is place and r.is_loaded}
        still = {r.between for r in readings if not r.is_loaded}
        return len(loaded & still if self.circuit is Circuit.WYE else loaded) > 1 < len(still)

    def _fits(self, reading: LoadReading) -> bool:
        if reading.between is Between.BOTH:
            return True
        return self.has_legs and (
            reading.place is Place.OUTLET or self.panel_legs or not reading.is_loaded
        )

    def _refuse_what_is_missing(self) -> None:
        outlet = [r for r in self.readings if r.place is Place.OUTLET and r.is_loaded]
        currents = {nominal(r.current_a) for r in self.readings}
        if not outlet or len(currents) == 1:
            raise OutOfRangeError(
                "volts without load and, at the outlet, with load are needed, between the two "
                "conductors that carry it",
                where="Voltage under load",
                remedy="Read both, and the current with them",
            )

    def _row(self, reading: LoadReading) -> Row:
        first, second = self._parts(reading.between)
        current_a = nominal(reading.current_a)
        letter = "T" if reading.place is Place.OUTLET else "S"
        if not self.has_legs:
            return {"E": 1.0, letter: -current_a}
        row = self._still(reading.between)
        if not reading.is_loaded:
            return row
        if letter == "S" and self.circuit is Circuit.SINGLE:  # its neutral bar is the reference
            return row | {"S1": -current_a * first}
        if letter == "S" and not self.panel_legs:
            return row | {"S": -current_a}
        return row | {f"{letter}1": -current_a * first, f"{letter}2": -current_a * second}

    def _still(self, between: Between) -> Row:
        """Volts without load; those between two legs of a wye are not the sum of the legs'."""
        if self.circuit is Circuit.WYE:
            names = {Between.BOTH: "E", Between.FIRST: "E1", Between.SECOND: "E2"}
            return {names[between]: 1.0}
        first, second = self._parts(between)
        return {"E1": first, "E2": second}

    def _parts(self, between: Between) -> tuple[float, float]:
        """How much of each leg's drop this reading sees."""
        part = WYE_PART if self.circuit is Circuit.WYE else 1.0
        return {
            Between.BOTH: (1.0, 1.0),
            Between.FIRST: (part, 0.0),
            Between.SECOND: (0.0, part),
        }[between]

    def line(self) -> LoadLine:
        """Fit twice: the error of the current counts as much as the resistance it meets."""
        usual = (Hypothesis(1.0, USUAL_WALK_V),)
        found = self._solved(dict.fromkeys(self.names, 0.0), usual)[0]
        supposed = tuple(self.walk.hypotheses())
        found, weights = self._solved({n: nominal(x) for n, x in found.items()}, supposed)
        restless = [w for w, h in zip(weights, supposed, strict=True) if h.step is not None]
        loaded = [r for r in self.readings if r.is_loaded]
        at_panel = any(r.place is Place.PANEL for r in loaded)
        return LoadLine(
            self.circuit,
            self._ohms(found, "T"),
            self._ohms(found, "S") if at_panel else None,
            max((r.current_a for r in loaded), key=nominal),
            moved=sum(restless) > MOVED_SHARE,
            tapered=_tapered(loaded),
            repeated=_repeated(self.readings),
        )

    def _ohms(self, found: Mapping[str, Number], letter: str) -> Ohms:
        if letter in found:
            return Ohms(found[letter])
        first, second = found[f"{letter}1"], found.get(f"{letter}2", 0.0)
        return Ohms(first + second, (first, second))

    def _solved(
        self, before: Mapping[str, float], supposed: Sequence[Hypothesis]
    ) -> tuple[dict[str, Number], tuple[float, ...]]:
        readings = [self._with_current_error(i, before) for i in range(len(self.rows))]
        plain, values = covariance(readings), [nominal(each) for each in readings]
        evidence = []
        for each in supposed:
            errors = self._errors(plain, [(1.0, each)])
            evidence.append(log(each.share) + log_evidence(self.model, errors, values))
        weights = shares(evidence)
        likely = sum(w for w in weights if w >= LEFT_OUT)
        weighed = [(w / likely, h) for w, h in zip(weights, supposed, strict=True) if w >= LEFT_OUT]
        gains = estimator(self.model, self._errors(plain, weighed))
        moved = self.walk.moved(readings, self.walk.movement(weighed))
        return dict(zip(self.names, apply(gains, moved), strict=True)), weights

    def _errors(self, plain: Matrix, weighed: Sequence[tuple[float, Hypothesis]]) -> Matrix:
        walked = self.walk.covariance(self.walk.movement(weighed))
        errors = [
            [p + w for p, w in zip(*rows, strict=True)] for rows in zip(plain, walked, strict=True)
        ]
        for i, row in enumerate(errors):
            row[i] += LEAST_ERROR_V**2
        return errors

    def _with_current_error(self, i: int, before: Mapping[str, float]) -> Number:
        reading, row = self.readings[i], self.rows[i]
        is_rise = self.circuit is Circuit.SINGLE and reading.between is Between.SECOND
        volts_v = -reading.volts_v if is_rise else reading.volts_v
        if not reading.is_loaded:
            return volts_v
        current_a = nominal(reading.current_a)
        lost_v = -sum(row[name] * before[name] for name in row if name[0] in "TS")
        if self.circuit is Circuit.WYE and reading.between is not Between.BOTH:
            volts_v = volts_v + lost_v * self.turns[reading.between]
        return volts_v + (reading.current_a - current_a) * lost_v / current_a


def _tapered(loaded: Sequence[LoadReading]) -> bool:
    """Whether the current changed within a step of load by more than the clamp's error."""
    firsts: list[Number] = []
    for current_a in (r.current_a for r in loaded):
        near = [f for f in firsts if abs(nominal(current_a) / nominal(f) - 1) < SAME_STEP_RATIO]
        if not near:
            firsts.append(current_a)
        elif abs(nominal(current_a - near[0])) > max(expanded(current_a - near[0]), 1e-9):
            return True
    return False


def _repeated(readings: Sequence[LoadReading]) -> bool:
    """Whether some place was read again under load after another place or another step."""
    visits: list[tuple[Place, float]] = []
    for reading in readings:
        visit = (reading.place, nominal(reading.current_a) if reading.is_loaded else 0.0)
        if not visits or visit != visits[-1]:
            visits.append(visit)
    places = [place for place, current_a in visits if current_a > 0]
    return len(places) > len(set(places))
