"""The report's section on power, range and time, and the night's plan in it."""

from checks.record import Visit
from tests.builders import visit
from tests.sound_visits import built
from tests.unit.report.test_for_the_owner import pages_of
from tests.unit.test_night import garage

TITLE = "Power, range and time"


def section(made: Visit) -> str:
    pages = pages_of(made)
    first = next(i for i, text in enumerate(pages) if TITLE in text)
    text = " ".join(pages[first:])
    return text[text.index(TITLE) : text.index("How the numbers were worked out")]


def test_the_numbers_stand_with_what_they_rest_on_and_are_no_promise() -> None:
    text = section(built("receptacle", {}))
    said = (
        "Worked out from what is recorded, and no promise.",
        "238.0 ± 2.8 V, measured under load at 39.6 A",
        "offered by the pilot signal",
        "kWh into the battery",
        "17.0 kWh/100 km (27.4 kWh/100 mi)",
        "own judgement, no source",
        "US EPA labels",
    )
    for words in said:
        assert words in text, words
    assert "The night's sharing plan" not in text


def test_the_nights_plan_is_drawn_with_its_limit_and_its_assumptions() -> None:
    text = section(garage("16 A", "32 A", "48 A", "48 A", device_a="100 A", set_a="80 A"))
    said = (
        "The night's sharing plan Panel A",
        "Bay 2, Bay 3, Bay 4 up to 21.3 A each: 30 kWh after 6.7 h",
        "limit as set: 80 A for all together",
        "10 kWh each: the last has it after 3.0 h",
        "A plan under assumptions, and no promise",
    )
    for words in said:
        assert words in text, words


def test_of_many_chargers_each_is_drawn_and_none_below_the_page() -> None:
    """Fourteen that take turns have a strip each; a figure holds no more than a page has room."""
    pages = pages_of(garage(*["32 A"] * 14, device_a="100 A", set_a="80 A"))
    drawn = [text for text in pages if "limit as set: 80 A for all together" in text]
    assert len(drawn) > 1
    for bay in range(5, 15):
        assert any(f"Bay {bay} up to 6.15 A" in text for text in drawn), bay


def test_what_cannot_be_said_is_said_with_why() -> None:
    """A charger set below the least current leaves the group without a plan."""
    text = section(garage("32 A", "5 A"))
    assert "Not worked out Panel A Set below 6 A, the least that can be offered: Bay 2." in text


def test_where_there_are_no_numbers_there_is_no_section() -> None:
    assert not any(TITLE in text for text in pages_of(visit()))
