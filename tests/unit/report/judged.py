"""A hand-made assessment of the invented visit: with every verdict, severity and force.

Nothing here is computed by the software under test, and no number is a claim about any code book.
"""

from checks.assess import Assessment, Finding, Gate, PointSummary, Row, StationSummary
from checks.check import CircuitState
from checks.path import BESIDE, Station, path, subject, title
from checks.quantity import Amount
from checks.record import ChargingPoint, Visit
from checks.source import Basis, Source, judgement, trade
from checks.verdict import (
    Force,
    Judgement,
    Limit,
    Severity,
    Side,
    Verdict,
    VoltageStep,
    worst,
)

NEC = Source(document="NEC (NFPA 70)", edition="2023", clause="210.19", basis=Basis.LOOKED_UP)
RECALLED = Source(
    document="NEC (NFPA 70)", edition="2023", clause="625.41", basis=Basis.FROM_MEMORY
)


def _limit(side: Side, value: str, unit: str, force: Force, source: Source, *working: str) -> Limit:
    return Limit(
        side=side,
        amount=Amount(value=value, unit=unit),
        exact=value,
        force=force,
        source=source,
        working=working,
    )


def _measured(
    verdict: Verdict,
    words: str,
    value: str,
    spread: str,
    unit: str,
    limit: Limit,
    margin: str,
    severity: Severity | None = None,
    *,
    telling: str = "",
    steps: tuple[VoltageStep, ...] = (),
    settles: str = "",
) -> Judgement:
    return Judgement(
        verdict=verdict,
        explanation=words,
        measured=Amount(value=value, unit=unit, expanded=spread),
        limits=(limit,),
        margin=Amount(value=margin, unit=unit, of="margin"),
        why="" if severity is None else "a joint that takes volts makes heat where it sits",
        remedy="" if severity is None else "make the circuit dead and remake the joint",
        settles=settles,
        severity=severity,
        telling=telling or f"{value} {unit}",
        steps=steps,
        working=("241.3 V - 232.4 V = 8.9 V", "8.9 V / 240 V = 3.7 %"),
    )


def _seen(verdict: Verdict, words: str, severity: Severity | None = None) -> Judgement:
    return Judgement(
        verdict=verdict,
        explanation=words,
        severity=severity,
        why="" if severity is None else "heat marks tell of a contact that has been hot",
        remedy="" if severity is None else "replace the receptacle with one rated for the circuit",
        sources=(trade("what electricians see"),),
        telling="marks" if severity else "",
    )


_DROP = _limit(
    Side.AT_MOST,
    "3.0",
    "%",
    Force.RECOMMENDATION,
    NEC,
    "branch circuit: 3 %",
    "scaled from 24 A to 32 A by 32 / 24",
)
_FIT = _limit(
    Side.AT_LEAST, "40", "A", Force.CODE_RULE, RECALLED, "continuous load: 32 A x 1.25 = 40 A"
)
_HOT = _limit(Side.AT_MOST, "30", "K", Force.TRADE_JUDGEMENT, judgement("experience with contacts"))

JUDGED: dict[tuple[str, str], Judgement] = {
    ("outlet.fit", "bay-1"): _measured(
        Verdict.OUTSIDE,
        "the receptacle is rated 30 A and its circuit needs 40 A",
        "30",
        "",
        "A",
        _FIT,
        "-10",
        Severity.DANGER,
    ),
    ("outlet.loaded_volts", "bay-1"): _measured(
        Verdict.OUTSIDE,
        "the drop at full current is above what is recommended",
        "3.71",
        "0.13",
        "%",
        _DROP,
        "-0.71",
        Severity.CAUTION,
        telling="232.4 V",
        steps=(
            VoltageStep(label="Panel", no_load_v="242.0", loaded_v="240.9"),
            VoltageStep(label="Receptacle", no_load_v="241.3", loaded_v="232.4"),
            VoltageStep(label="Vehicle's display", no_load_v="", loaded_v="231"),
        ),
    ),
    ("connector.rise", "bay-1"): _measured(
        Verdict.BORDERLINE,
        "the rise lies too near its limit to be told from it",
        "28.5",
        "2.4",
        "K",
        _HOT,
        "1.5",
        Severity.NOTICE,
        settles="repeat after 30 min under load with a contact thermometer",
    ),
    ("outlet.marks", "bay-1"): _seen(Verdict.OUTSIDE, "brown marks at one slot", Severity.WARNING),
    ("panel.rating", "panel-1"): _seen(Verdict.WITHIN, "the bus is rated for its main"),
    ("breaker.torque", "bay-1"): Judgement(
        verdict=Verdict.NOT_MEASURED,
        explanation="Left out, no fit instrument here: the torque tool is at calibration",
        limits=(_limit(Side.AT_LEAST, "4.0", "N·m", Force.LISTING, RECALLED),),
    ),
    ("breaker.size", "bay-2"): Judgement(
        verdict=Verdict.NOT_MEASURED, explanation="nothing was entered"
    ),
    ("service.other_source", "site"): Judgement(
        verdict=Verdict.NOT_APPLICABLE, explanation="no other source feeds the bus"
    ),
    ("outlet.retention", "bay-2"): Judgement(
        verdict=Verdict.NOT_APPLICABLE, explanation="the charger is hard-wired"
    ),
    ("outlet.fit", "bay-2"): Judgement(
        verdict=Verdict.NOT_APPLICABLE, explanation="the charger is hard-wired"
    ),
    **{
        (f"charger.item_{n}", bay): _seen(Verdict.WITHIN, f"the plate says what item {n} asks for")
        for n in range(1, 6)
        for bay in ("bay-1", "bay-2")
    },
}
TITLES = {
    "outlet.fit": "Receptacle against its circuit",
    "outlet.loaded_volts": "Voltage at the receptacle under load",
    "connector.rise": "Rise at the connector",
    "outlet.marks": "Heat marks at the receptacle",
    "panel.rating": "Rating of the panel",
    "breaker.torque": "Torque of the breaker's terminals",
    "breaker.size": "Size of the breaker",
    "service.other_source": "Other sources on the bus",
    "outlet.retention": "Retention of the receptacle",
}


def an_assessment(visit: Visit) -> Assessment:
    """Return the hand-made assessment of the invented visit."""
    rows = []
    for (check, at), judged in JUDGED.items():
        mine = sorted(e.number for e in visit.entries if (e.check, e.subject) == (check, at))
        rows.append(
            Row(
                check=check,
                title=TITLES.get(check, f"Item {check[-1]} of the charger's plate"),
                station=Station(check.split(".")[0]),
                subject=at,
                state=CircuitState.ANY,
                judgement=judged,
                entry=mine[-1] if mine else None,
                superseded=tuple(mine[:-1]),
            )
        )
    found = [
        Finding(severity=r.judgement.severity, row=r)
        for r in rows
        if r.judgement.severity is not None
    ]
    found.sort(key=lambda f: list(Severity).index(f.severity))
    return Assessment(
        software="0.1.0",
        code=visit.code,
        visit=visit.id,
        revision=visit.revision,
        verdict=worst(r.judgement.verdict for r in rows),
        rows=tuple(rows),
        findings=tuple(found),
        points=tuple(_point(visit, p, rows) for p in visit.points),
    )


def _point(visit: Visit, point: ChargingPoint, rows: list[Row]) -> PointSummary:
    def station(s: Station) -> StationSummary:
        here = [r for r in rows if r.station is s and r.subject == subject(s, point)]
        return StationSummary(
            station=s,
            title=title(s, point),
            subject=subject(s, point),
            verdict=worst(r.judgement.verdict for r in here),
            telling=next((r.judgement.telling for r in here if r.judgement.telling), ""),
        )

    along = tuple(station(s) for s in path(point))
    beside = tuple(station(s) for s in BESIDE)
    return PointSummary(
        point=point.id,
        name=point.name,
        verdict=worst(s.verdict for s in (*along, *beside)),
        path=along,
        beside=beside,
        gates=(
            Gate(state=CircuitState.DEAD, is_open=True),
            Gate(state=CircuitState.ENERGISED, is_open=True),
            Gate(state=CircuitState.UNDER_LOAD, is_open=False, waiting=("outlet.marks",)),
        ),
        staircase=tuple(s for r in rows if r.subject == point.id for s in r.judgement.steps),
    )
