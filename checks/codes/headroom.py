"""Room for chargers on a dwelling's service, by every method of the code; what would make room."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from checks.codes.answer import Outcome, Ruling, Worked
from checks.codes.dwelling import DwellingLoad, DwellingMethod, Service
from checks.codes.profile import CodeProfile
from checks.codes.worksheet import Worksheet
from checks.errors import OutOfRangeError

HALVINGS = 60  # halve the rating until less than a millionth of an ampere is left
NOTHING_A = 1e-6


@dataclass(frozen=True)
class MethodResult:
    """What one method says.

    Parameters
    ----------
    title : str
        The method.
    readings : tuple of Worksheet
        One a reading of its text; none where the method may not be used.
    refusal : str
        Why it may not be used here; empty when it may.
    """

    title: str
    readings: tuple[Worksheet, ...]
    refusal: str = ""

    @property
    def cautious(self) -> Worksheet:
        """The reading that counts most."""
        return max(self.readings, key=lambda sheet: sheet.total_va)

    @property
    def lenient(self) -> Worksheet:
        """The reading that counts least."""
        return min(self.readings, key=lambda sheet: sheet.total_va)


@dataclass(frozen=True)
class DwellingRoom:
    """Whether a dwelling's load fits its service.

    Parameters
    ----------
    service : Service
        What it must fit on.
    results : tuple of MethodResult
        Every method, those that may not be used here with the reason.
    ruling : Ruling
        Yes where the cautious reading of some method fits, read two ways where only a lenient one
        does, else no: the code lets the user choose the method, not the reading.
    """

    service: Service
    results: tuple[MethodResult, ...]
    ruling: Ruling

    @property
    def usable(self) -> tuple[MethodResult, ...]:
        """The methods that may be used here."""
        return tuple(each for each in self.results if each.readings)

    @property
    def deciding(self) -> Worksheet:
        """Of the cautious readings the one that leaves most room."""
        return min((each.cautious for each in self.usable), key=lambda sheet: sheet.total_va)

    @property
    def total_a(self) -> float:
        """The deciding load in amps. [A]."""
        return self.service.amps(self.deciding.total_va)

    @property
    def room_a(self) -> float:
        """Rating less the deciding load; negative when it does not fit. [A]."""
        return self.service.rating_a - self.total_a

    @property
    def working(self) -> tuple[str, ...]:
        """Every line of every method and reading, then what each comes to."""
        lines: list[str] = []
        for result in self.results:
            if result.refusal:
                lines.append(f"{result.title}: {result.refusal}")
            for sheet in result.readings:
                amps = self.service.amps(sheet.total_va)
                lines += (*sheet.working, f"{amps:.1f} A on {self.service.rating_a:g} A")
        return tuple(lines)


@dataclass(frozen=True)
class Relief:
    """What automatic load management would allow.

    Parameters
    ----------
    charger_limit_a : Worked
        Highest limit for all chargers together that fits; 0 where none does. [A]
    service_setpoint_a : Worked
        Highest setpoint for the whole service, house and chargers together. [A]
    """

    charger_limit_a: Worked
    service_setpoint_a: Worked


def dwelling_room(profile: CodeProfile, dwelling: DwellingLoad, service: Service) -> DwellingRoom:
    """Calculate a dwelling's load by every method of the code and hold it against its service.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    dwelling : DwellingLoad
        What it has, chargers included.
    service : Service
        What it must fit on.

    Returns
    -------
    DwellingRoom
        Every method with its working, room [A] and ruling.

    Raises
    ------
    OutOfRangeError
        The service has no rating.

    References
    ----------
    NEC 2023 article 220 parts III and IV; CE Code 2021 8-200.
    """
    if service.rating_a <= 0:
        raise OutOfRangeError(
            f"a service of {service.rating_a:g} A is not possible",
            where="Service, rating",
            remedy="Read the rating of main breaker and conductors",
        )
    results = tuple(_result(method, dwelling, service) for method in profile.load.methods)
    usable = [each for each in results if each.readings]
    best = min((each.cautious for each in usable), key=lambda sheet: sheet.total_va)
    mildest = min((each.lenient for each in usable), key=lambda sheet: sheet.total_va)
    return DwellingRoom(service, results, _ruling(best, mildest, service))


def _result(method: DwellingMethod, dwelling: DwellingLoad, service: Service) -> MethodResult:
    refusal = method.refusal(dwelling, service)
    return MethodResult(method.title, () if refusal else method.readings(dwelling), refusal)


def _ruling(best: Worksheet, mildest: Worksheet, service: Service) -> Ruling:
    def fits(sheet: Worksheet) -> bool:
        return service.amps(sheet.total_va) <= service.rating_a + NOTHING_A

    sheet, outcome = best, Outcome.NO
    if fits(best):
        outcome = Outcome.YES
    elif fits(mildest):
        sheet, outcome = mildest, Outcome.READ_TWO_WAYS
    amps = service.amps(sheet.total_va)
    name = f"{sheet.method}{f', {sheet.reading}' if sheet.reading else ''}"
    why = f"{name}: {sheet.total_va:.0f} VA is {amps:.1f} A on {service.rating_a:g} A"
    return Ruling(outcome, why, sheet.sources)


def largest_charger_in_dwelling_a(
    profile: CodeProfile, dwelling: DwellingLoad, service: Service
) -> tuple[Worked, Worked]:
    """Largest charger output that fits, by the lenient and by the cautious reading.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    dwelling : DwellingLoad
        What it has; its chargers are replaced by the one that is sought.
    service : Service
        What it must fit on.

    Returns
    -------
    tuple of Worked
        Lenient, then cautious; 0 where nothing fits. [A]

    References
    ----------
    NEC 2023 article 220 parts III and IV, 220.57; CE Code 2021 8-200.
    """

    def with_charger(amps: float) -> DwellingLoad:
        return replace(dwelling, charger_va=service.va(amps), charger_count=1, managed_va=None)

    lenient, cautious = (
        _largest_a(profile, service, with_charger, "charger", pick)
        for pick in (_lenient, _cautious)
    )
    return lenient, cautious


def relief(profile: CodeProfile, dwelling: DwellingLoad, service: Service) -> Relief:
    """Tell what automatic load management would change.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    dwelling : DwellingLoad
        What it has, with the chargers that are wanted.
    service : Service
        What it must fit on.

    Returns
    -------
    Relief
        Limit for the chargers together, and setpoint for the whole service. [A]

    References
    ----------
    NEC 2023 625.42(A), 220.70, 750.30; CE Code 2021 8-106 10), 11), 8-500.
    """

    def with_limit(amps: float) -> DwellingLoad:
        held = service.va(amps)
        return replace(dwelling, charger_va=max(held, dwelling.charger_va), managed_va=held)

    limit = _largest_a(profile, service, with_limit, "limit for the chargers", _cautious)
    rule = profile.load.managed_ratio
    setpoint = service.rating_a / rule.value
    line = f"rating {service.rating_a:g} A / {rule.value:g} = {setpoint:g} A ({rule.source})"
    return Relief(limit, Worked(setpoint, (rule.source,), (line,), rule.force))


def _cautious(result: MethodResult) -> Worksheet:
    return result.cautious


def _lenient(result: MethodResult) -> Worksheet:
    return result.lenient


def _largest_a(
    profile: CodeProfile,
    service: Service,
    with_amps: Callable[[float], DwellingLoad],
    what: str,
    pick: Callable[[MethodResult], Worksheet],
) -> Worked:
    """Halve the interval: every method counts more, or as much, for more amps."""

    def sheet(amps: float) -> Worksheet:
        found = dwelling_room(profile, with_amps(amps), service)
        return min((pick(each) for each in found.usable), key=lambda each: each.total_va)

    def fits(amps: float) -> bool:
        return service.amps(sheet(amps).total_va) <= service.rating_a + NOTHING_A

    low, high = 0.0, service.rating_a
    if not fits(NOTHING_A):
        high = 0.0
    elif fits(high):
        low = high
    for _ in range(HALVINGS):
        if high - low <= NOTHING_A:
            break
        middle = (low + high) / 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    deciding = sheet(max(low, NOTHING_A))
    line = f"largest {what}: {low:.1f} A on {service.rating_a:g} A by {deciding.method}"
    return Worked(low, deciding.sources, (*deciding.working, line))
