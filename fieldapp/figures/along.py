"""The stations of a charging point, as the one-line diagram marks them on screen and page."""

from collections.abc import Iterable

from checks.assess.model import StationSummary
from checks.path import BESIDE, Station
from checks.record import Attachment, ChargingPoint
from fieldapp.figures.one_line import StationMark


def station_marks(stations: Iterable[StationSummary], point: ChargingPoint) -> list[StationMark]:
    """Return the mark of each station.

    Parameters
    ----------
    stations : iterable of StationSummary
        What was found at each.
    point : ChargingPoint
        What is installed there: without a receptacle the outlet is a terminal.
    """
    return [
        StationMark(
            key=s.station.value,
            title=s.title,
            symbol=_symbol(s.station, point),
            verdict=str(s.verdict),
            reading=s.telling,
            quantity=s.quantity,
            on_path=s.station not in BESIDE,
        )
        for s in stations
    ]


def _symbol(station: Station, point: ChargingPoint) -> str:
    is_wired = station is Station.OUTLET and point.attachment is Attachment.HARD_WIRED
    return "terminal" if is_wired else station.value
