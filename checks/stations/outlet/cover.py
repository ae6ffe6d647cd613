"""The receptacle's cover against rain and damp air."""

from typing import Final

from checks.check import Check, Choice, Option, Situation, YesNo, not_measured, seen, together
from checks.codes.answer import Outcome
from checks.codes.receptacle import cover_required
from checks.errors import OutOfTableError
from checks.stations.outlet.where import kind, receptacle_only
from checks.verdict import Judgement, Severity

COVERS: Final = {
    "none": "No cover",
    "closed": "Weatherproof when closed",
    "in_use": "Weatherproof, plug in",
}
# What covers what: a place is served by any of these covers.
SERVES: Final = {
    "dry": ("none", "closed", "in_use"),
    "damp": ("closed", "in_use"),
    "wet": ("in_use",),
}


def _judge_cover(s: Situation) -> Judgement:
    place, found = s.choice("surroundings.place.wetness"), kind(s)
    cover = s.choice("outlet.cover.cover")
    if place is None:
        return not_measured("How wet the place is, is missing, at the surroundings")
    if found is None:
        return not_measured("Which receptacle it is, is missing, at its configuration")
    try:
        ruling = cover_required(s.code, place, float(found.rating_a))
    except OutOfTableError as error:
        return not_measured(error.problem)
    if cover is None:
        return not_measured(f"Here: {ruling.why}", sources=ruling.sources)
    parts = [
        seen(
            cover in SERVES[place],
            explanation=f"{COVERS[cover]}; a {place} place asks for {ruling.why}"
            if ruling.outcome is Outcome.YES
            else "A dry place asks for no weatherproof cover",
            source=ruling.source,
            why="Rain on a charging plug makes a path to whoever touches it, and rots the contacts",
            remedy="Keep it unused until a fitting cover is installed",
            severity=Severity.WARNING if place == "wet" else Severity.CAUTION,
        )
    ]
    if ruling.outcome is Outcome.YES:
        parts += _cover_details(s, float(found.rating_a))
    return together(parts)


def _may_need_mark(s: Situation) -> bool:
    """Return whether a weather-resistant one is asked for here, for all that is recorded."""
    found, upto = kind(s), s.code.receptacles.weather_resistant_upto_a.value
    is_small = found is None or found.rating_a <= upto
    return is_small and s.choice("surroundings.place.wetness") != "dry"


def _cover_details(s: Situation, rating_a: float) -> list[Judgement]:
    upto = s.code.receptacles.weather_resistant_upto_a
    marked = s.yes("outlet.cover.is_weather_resistant")
    if rating_a > upto.value:
        return []
    if marked is None:
        return [not_measured("Whether it is marked weather-resistant is missing")]
    return [
        seen(
            marked,
            explanation=f"A {rating_a:g} A receptacle in this place is marked weather-resistant"
            if marked
            else f"A {rating_a:g} A receptacle in this place is not marked weather-resistant",
            source=upto.source,
            why="Plain contacts and plastics age fast in damp air and sun",
            remedy="Replace it with one marked weather-resistant",
            severity=Severity.CAUTION,
        )
    ]


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="outlet.cover",
        title="Cover against weather",
        how="Plug in, close the cover and see what stays open to rain; read the marking.",
        inputs=(
            Choice(
                "cover",
                "Cover",
                options=tuple(Option(value, label) for value, label in COVERS.items()),
            ),
            YesNo(
                "is_weather_resistant",
                "Marked WR",
                good=True,
                optional=True,
                where=_may_need_mark,
                help="Weather-resistant; asked for 15 A and 20 A receptacles in damp or wet places",
            ),
        ),
        judge=_judge_cover,
        applies=receptacle_only,
    ),
)
