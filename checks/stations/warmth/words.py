"""What a heating series says, in words that a technician reads while measuring."""

from typing import Final

from checks.electrical.heat_forecast import HeatForecast, HeatState, RiseForecast
from checks.electrical.heat_forecast_stop import STOP_C, STOP_RISE_K, Stop
from checks.electrical.thermography import LEAST_LOAD_RATIO
from checks.quantity import nominal
from checks.stations.warmth.series import HeatSeries, hottest, is_full, is_too_little

SIGNS: Final = {
    "smell": "a smell of heat",
    "discoloration": "discoloration or softening",
    "smoke": "smoke, hiss or crackle",
    "accelerating": "a rise that gets faster and faster",
}
LIKE: Final = "like part"
STOP_F: Final = 1.8 * STOP_C + 32.0
STOP_RISE_F: Final = 1.8 * STOP_RISE_K
LATE_K: Final = 3.0
LATE_SHARE: Final = 0.2  # of the rise at the last reading


def ended(part: str, sign: str) -> str:
    """Say which sign ended the test; what was seen before is said as it was found there."""
    return f"Stop sign at the {part}: {SIGNS.get(sign, sign)}"


def said(part: str, series: HeatSeries, found: HeatForecast, full_a: float) -> str:
    """Say what the readings allow to be said of the end, and what was set aside."""
    rise_k = nominal(found.last_rise_k)
    if found.stop is not Stop.NONE:
        return stop_words(part, series, found.stop)
    if found.state is HeatState.COOLING:
        return f"The {part} cools: the current fell or ended. Begin anew at a steady current"
    test_a = nominal(series.samples[-1].current_a)
    if is_too_little(test_a, full_a):
        least_pct = 100 * LEAST_LOAD_RATIO
        return (
            f"{rise_k:.1f} K over the air at {test_a:.0f} A: under {least_pct:g} % of {full_a:g} A "
            "is too little current to tell. Repeat it at more"
        )
    if found.state is HeatState.KEEP_MEASURING:
        words = f"{rise_k:.1f} K over the air so far: keep measuring about {found.more_min} min"
        return words + _set_aside(series, found)
    assert found.at_test is not None
    assert found.at_full is not None
    at_full = f"{_rise(found.at_full)} over the air at {full_a:g} A"
    if is_full(test_a, full_a):
        words = f"The {part} ends {at_full}"
    else:
        words = f"The {part} ends {_rise(found.at_test)} over the air at {test_a:.0f} A, {at_full}"
    return words + _set_aside(series, found)


def _rise(rise: RiseForecast) -> str:
    if rise.high_k is None:
        return f"{rise.low_k:.0f} K or more"
    return f"{rise.low_k:.0f} K to {rise.high_k:.0f} K"


def stop_words(part: str, series: HeatSeries, stop: Stop) -> str:
    """Say what ended the test: the hottest reading of all, or a rise that quickens."""
    if stop is Stop.ACCELERATING:
        return f"The rise of the {part} gets faster at a steady current"
    is_like = series.is_like_hotter
    part, most = (LIKE if is_like else part), hottest(series.like if is_like else series.samples)
    temp_c, rise_k = nominal(most.temp_c), nominal(most.temp_c - most.ambient_c)
    if stop is Stop.TEMPERATURE:
        return f"The {part} is {temp_c:.0f} °C, and the test ends at {STOP_C:g} °C ({STOP_F:g} °F)"
    return (
        f"The {part} is {rise_k:.0f} K over the air, and the test ends at {STOP_RISE_K:g} K "
        f"({STOP_RISE_F:g} °F)"
    )


def _set_aside(series: HeatSeries, found: HeatForecast) -> str:
    """Name the readings that stand out, a change of current, and a late start."""
    words = ""
    if found.is_last_doubtful:
        words += "; the last reading stands out: read it again"
    if found.left_out:
        numbers = ", ".join(str(i + 1) for i in found.left_out)
        words += (
            f"; reading {numbers} stands out and is left out"
            if len(found.left_out) == 1
            else f"; readings {numbers} stand out and are left out"
        )
    if found.started:
        words += f"; from reading {found.started + 1}, where the current became steady"
    first = series.samples[0]
    start_k = nominal(first.temp_c - first.ambient_c)
    if not found.started and start_k > max(LATE_K, LATE_SHARE * nominal(found.last_rise_k)):
        words += f"; begun late, {start_k:.0f} K warm"
    return words
