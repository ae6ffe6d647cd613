"""What a conductor may carry where it is installed: table, terminals, ambient, bundling, cable."""

from dataclasses import dataclass

from checks.codes.answer import Worked
from checks.codes.profile import CodeProfile, Rule
from checks.codes.table import band, row
from checks.errors import OutOfTableError
from checks.source import Source


@dataclass(frozen=True)
class Wiring:
    """How the conductors of a circuit are installed.

    Parameters
    ----------
    size : str
        Conductor size, such as ``"6 AWG"``.
    material : str
        ``"copper"`` or ``"aluminum"``.
    insulation : str
        Insulation letters, such as ``"THWN-2"``; for a cable, those of its conductors.
    cable : str
        Cable or raceway, such as ``"NM"``: some cables cap the ampacity.
    is_in_insulation : bool
        Whether any part of a cable touches thermal insulation, where that caps its ampacity.
    is_wet : bool
        Whether the run passes a wet location, such as any raceway outdoors or underground.
    ambient_c : float
        Highest ambient temperature along the run. [°C]
    current_carrying : int
        Conductors that carry current in the same raceway or cable, spares included.
    marked_c : int, optional
        Lowest temperature marked at the terminals of both ends; None when unmarked or not seen.
        [°C]
    """

    size: str
    material: str
    insulation: str
    cable: str = ""
    is_in_insulation: bool = False
    is_wet: bool = False
    ambient_c: float = 30.0
    current_carrying: int = 2
    marked_c: int | None = None


@dataclass(frozen=True)
class Ampacity:
    """What a conductor may carry here.

    Parameters
    ----------
    termination_a : Worked
        Table value of the column that terminals and cable allow, before correction. [A]
    corrected_a : Worked
        Value of the insulation's column after ambient and bundling, the cable's cap kept. [A]
    """

    termination_a: Worked
    corrected_a: Worked

    @property
    def final_a(self) -> Worked:
        """The lesser of the two: the conductor's ampacity in this circuit. [A]."""
        value = min(self.termination_a.value, self.corrected_a.value)
        return Worked(
            value,
            self.termination_a.sources + self.corrected_a.sources,
            (
                *self.termination_a.working,
                *self.corrected_a.working,
                f"ampacity here: the lesser, {value:g} A",
            ),
        )


def termination_column_c(
    profile: CodeProfile, circuit_a: float, marked_c: int | None = None
) -> Rule[int]:
    """Column that the terminals at both ends allow.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    circuit_a : float
        Rating of the circuit. [A]
    marked_c : int or None
        Lowest temperature marked at the terminals; None when unmarked or not seen. [°C]

    Returns
    -------
    Rule of int
        Column temperature. [°C]

    References
    ----------
    NEC 2023 110.14(C)(1).
    """
    source = profile.conductors.termination_c[0].value.source
    unmarked = band(
        profile.conductors.termination_c, circuit_a, what="circuit rating, A", source=source
    )
    if marked_c is None:
        return unmarked
    return Rule(_column_c(profile, marked_c, source), source)


def column_ampacity_a(profile: CodeProfile, size: str, material: str, column_c: int) -> int:
    """Ampacity of a size in one column of the table, before any correction.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    size : str
        Such as ``"6 AWG"``. [-]
    material : str
        ``"copper"`` or ``"aluminum"``. [-]
    column_c : int
        Temperature of the column. [°C]

    Returns
    -------
    int
        Ampacity. [A]

    Raises
    ------
    OutOfTableError
        Size or material is not in the table.

    References
    ----------
    NEC 2023 table 310.16.
    """
    return _cell_a(profile, Wiring(size, material, insulation=""), column_c)


def conductor_ampacity(profile: CodeProfile, wiring: Wiring, circuit_a: float) -> Ampacity:
    """Find what a conductor may carry in this circuit, with the working.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    wiring : Wiring
        How it is installed.
    circuit_a : float
        Rating of the circuit; it decides the column of unmarked terminals. [A]

    Returns
    -------
    Ampacity
        At the terminals before correction, and along the run after it. [A]

    Raises
    ------
    OutOfTableError
        Size, material, insulation or temperature is not in the code's tables.

    References
    ----------
    NEC 2023 310.15, table 310.16, 110.14(C), 210.19(A), 320.80, 334.80, 338.10(B)(4).
    """
    insulation_c = _insulation_column_c(profile, wiring)
    return Ampacity(
        _at_terminals(profile, wiring, circuit_a, insulation_c),
        _after_correction(profile, wiring, insulation_c),
    )


def _at_terminals(
    profile: CodeProfile, wiring: Wiring, circuit_a: float, insulation_c: int
) -> Worked:
    table = _cell_source(profile, wiring)
    terminals = termination_column_c(profile, circuit_a, wiring.marked_c)
    column_c = min(terminals.value, insulation_c)
    sources = [table, terminals.source]
    seen = "unmarked" if wiring.marked_c is None else f"marked {wiring.marked_c} °C"
    lines = [f"terminals {seen}: {terminals.value} °C column ({terminals.source})"]
    cap = _cap_c(profile, wiring)
    if cap is not None:
        column_c = min(column_c, cap.value)
        sources.append(cap.source)
        lines.append(f"cable {wiring.cable}: {cap.value} °C column ({cap.source})")
    amps = _cell_a(profile, wiring, column_c)
    lines.append(f"{wiring.size} {wiring.material} at {column_c} °C: {amps} A ({table})")
    return Worked(float(amps), tuple(sources), tuple(lines))


def _after_correction(profile: CodeProfile, wiring: Wiring, insulation_c: int) -> Worked:
    tables = profile.conductors
    table = _cell_source(profile, wiring)
    base = _cell_a(profile, wiring, insulation_c)
    ambient = band(
        row(
            tables.ambient_ratio.value,
            insulation_c,
            what="insulation, °C",
            source=tables.ambient_ratio.source,
        ),
        wiring.ambient_c,
        what="ambient, °C",
        source=tables.ambient_ratio.source,
    )
    bundling = band(
        tables.bundling_ratio.value,
        wiring.current_carrying,
        what="current-carrying conductors",
        source=tables.bundling_ratio.source,
    )
    amps = base * ambient * bundling
    sources = [
        table,
        tables.insulation_c[wiring.insulation].source,
        tables.ambient_ratio.source,
        tables.bundling_ratio.source,
    ]
    lines = [
        f"{wiring.size} {wiring.material}, {wiring.insulation} at {insulation_c} °C: {base} A "
        f"({table})",
        f"ambient {wiring.ambient_c:g} °C: × {ambient:.2f} ({tables.ambient_ratio.source})",
        f"{wiring.current_carrying} current-carrying: × {bundling:.2f} "
        f"({tables.bundling_ratio.source})",
        f"corrected: {amps:.4g} A",
    ]
    cap = _cap_c(profile, wiring)
    if cap is not None:
        cap_a = _cell_a(profile, wiring, min(cap.value, insulation_c))
        amps = min(amps, cap_a)
        sources.append(cap.source)
        lines.append(f"cable {wiring.cable}: at most {cap_a} A, so {amps:.4g} A ({cap.source})")
    return Worked(amps, tuple(sources), tuple(lines))


def _cap_c(profile: CodeProfile, wiring: Wiring) -> Rule[int] | None:
    """Return the column that the cable's final ampacity may not exceed here, if there is one."""
    tables = profile.conductors
    always = tables.cable_cap_c.get(wiring.cable)
    insulated = tables.insulated_cap_c.get(wiring.cable)
    if always is not None or insulated is None or not wiring.is_in_insulation:
        return always
    column_c = insulated.value.get(wiring.size)
    return None if column_c is None else Rule(column_c, insulated.source)


def _cell_a(profile: CodeProfile, wiring: Wiring, column_c: int) -> int:
    rule = profile.conductors.ampacity_a
    sizes = row(rule.value, wiring.material, what="material", source=rule.source)
    cells = row(sizes, wiring.size, what="size", source=rule.source)
    return cells[profile.conductors.columns_c.index(column_c)]


def _cell_source(profile: CodeProfile, wiring: Wiring) -> Source:
    """Where this cell stands: a table may be known in parts."""
    tables = profile.conductors
    return tables.cell_source.get((wiring.material, wiring.size), tables.ampacity_a.source)


def _column_c(profile: CodeProfile, temp_c: int, source: Source) -> int:
    """Return the highest column that does not exceed a temperature rating."""
    fitting = [column for column in profile.conductors.columns_c if column <= temp_c]
    if not fitting:
        raise OutOfTableError(
            f"{source} has no column as low as {temp_c} °C",
            where="Temperature rating",
            remedy="Read the marking again",
        )
    return max(fitting)


def _insulation_column_c(profile: CodeProfile, wiring: Wiring) -> int:
    rules = profile.conductors.insulation_c
    source = next(iter(rules.values())).source
    rule = row(rules, wiring.insulation, what="insulation", source=source)
    dry_c, wet_c = rule.value
    rating_c = wet_c if wiring.is_wet else dry_c
    if rating_c is None:
        raise OutOfTableError(
            f"insulation {wiring.insulation} has no rating for a wet location",
            where="Run, insulation",
            remedy="Read every marking on the jacket; many conductors carry a second one",
        )
    return _column_c(profile, rating_c, rule.source)
