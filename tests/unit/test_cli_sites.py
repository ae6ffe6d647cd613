"""The command line on records of a site: trends, causes, cards to leave, earlier findings."""

import json
from pathlib import Path

import pytest

from checks.record import Site, Visit
from checks.trends import Seen
from fieldapp import cli
from fieldapp import demo as demo_visits
from tests.builders import visit, with_entries
from tests.unit.causes.calls import level_1_call
from tests.unit.test_trends import seen


def records(folder: Path, *found: Seen) -> list[str]:
    paths = []
    for each in found:
        path = folder / f"{each.visit.id}.json"
        path.write_text(each.visit.model_dump_json(), encoding="utf-8")
        paths.append(str(path))
    return paths


def here(*args: str) -> int:
    return cli.main(args, open_touch=lambda _: 99)


def test_a_trend_toward_a_limit_is_printed_with_its_date(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    paths = records(tmp_path, seen(2025, "2.00"), seen(2023, "4.00"), seen(2024, "3.00"))

    assert here("trend", *paths) == cli.FOUND
    printed = capsys.readouterr().out
    assert "Grip of the contacts (Bay 1): caution" in printed
    assert "about 2026-04" in printed
    assert "own judgement" in printed

    assert here("trend", *paths, "--json") == cli.FOUND
    (found,) = json.loads(capsys.readouterr().out)
    assert found["crossing"].startswith("2026-04")


def test_a_trend_has_an_exit_code_for_good_for_nothing_to_compare_and_for_another_site(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    latest, same, bare, other = records(
        tmp_path,
        seen(2025, "6.0"),
        seen(2024, "6.1"),
        seen(2023),
        seen(2022, "4.0", site=Site(name="Another invented site")),
    )
    assert here("trend", latest, same) == cli.GOOD
    assert here("trend", latest, bare) == cli.UNFINISHED
    assert "Nothing to compare" in capsys.readouterr().out
    assert here("trend", latest, other) == cli.BAD
    (line,) = capsys.readouterr().err.splitlines()
    assert "visit v2022-6" in line


def written(folder: Path, made: Visit) -> str:
    path = folder / "visit.json"
    path.write_text(made.model_dump_json(), encoding="utf-8")
    return str(path)


TRIPS = {"breaker.trip_history": {"when": "minutes", "kind": "overcurrent"}}
KETTLE = {"run.dedicated": {"is_alone": False, "what": "kettle", "other_a": "12.5 A"}}


def test_causes_are_printed_with_what_speaks_for_them_and_the_next_test(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, level_1_call(TRIPS))
    assert here("causes", path) == cli.FOUND
    printed = capsys.readouterr().out
    assert "%  Other loads on the charger's circuit (run): " in printed
    assert "For: The breaker trips within half an hour (strongly)" in printed
    assert "Next test: " in printed
    assert "authority having jurisdiction" in printed

    assert here("causes", path, "--json") == cli.FOUND
    (ranking,) = json.loads(capsys.readouterr().out)
    assert ranking["causes"][0]["cause"] == "shared_circuit"
    assert ranking["next_test"]["prospects"]


def test_causes_have_an_exit_code_for_proven_for_no_symptom_and_for_another_visit(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert here("causes", written(tmp_path, level_1_call(TRIPS | KETTLE))) == cli.GOOD
    printed = capsys.readouterr().out
    assert "Proven: Other loads" in printed
    assert "To repeat after the repair: Circuit of its own, Breaker rating\n" in printed
    assert here("causes", written(tmp_path, level_1_call({}))) == cli.UNFINISHED
    assert "ask what happens" in capsys.readouterr().out
    assert here("causes", written(tmp_path, visit())) == cli.BAD
    (line,) = capsys.readouterr().err.splitlines()
    assert "Give the record of a service call" in line


def as_file(record: Visit, folder: Path) -> Path:
    file = folder / f"{record.id}.json"
    file.write_text(record.model_dump_json(), encoding="utf-8")
    return file


def test_the_cards_to_leave_are_printed_and_what_the_record_lacks_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    read = {"breaker.rating": {"rated_a": "50 A", "poles": "2", "spaces": "14-16"}}
    file = as_file(with_entries(visit(), read), tmp_path)
    assert cli.main(["leave", str(file)], open_touch=lambda _: 0) == cli.UNFINISHED
    printed = capsys.readouterr().out
    assert "14-16: EV charger, Bay 1 · 50 A, 2-pole" in printed
    assert "Source: NEC (NFPA 70) 2023 408.4(A)" in printed
    assert "Not made: next inspection (Invented site)." in printed
    cli.main(["leave", str(file), "--json"], open_touch=lambda _: 0)
    (card,) = json.loads(capsys.readouterr().out)["cards"]
    assert card["kind"] == "panel directory"


@pytest.mark.parametrize(
    ("now", "code", "said"),
    [
        ({}, cli.UNFINISHED, "Not inspected again"),
        ({"kind": "14-50", "count": "single"}, cli.GOOD, "Now: within"),
        ({"kind": "14-30", "count": "single"}, cli.FOUND, "Now: outside, 30 A"),
    ],
)
def test_what_became_of_an_earlier_finding_is_the_exit_code(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    now: dict[str, str],
    code: int,
    said: str,
) -> None:
    breaker = {"breaker.rating": {"rated_a": "50 A", "poles": "2"}}
    plug = {"outlet.configuration": {"kind": "14-30", "count": "single"}}
    first = visit(id="first", started="2024-06-02T12:00:00Z")
    earlier = as_file(with_entries(first, breaker | plug), tmp_path)
    again = {"outlet.configuration": now} if now else {}
    latest = as_file(with_entries(visit(), breaker | again), tmp_path)
    assert cli.main(["again", str(latest), str(earlier)], open_touch=lambda _: 0) == code
    printed = capsys.readouterr().out
    assert "Receptacle against circuit (Bay 1) WARNING" in printed
    assert said in printed


def test_help_readme_and_command_name_the_same_invented_visits(
    capsys: pytest.CaptureFixture[str],
) -> None:
    root = Path(__file__).resolve().parents[2]
    row = next(
        line
        for line in (root / "README.md").read_text(encoding="utf-8").splitlines()
        if line.startswith("| `fieldapp demo")
    )
    with pytest.raises(SystemExit):
        here("demo", "--help")
    helped = capsys.readouterr().out
    there = {p.stem for p in (root / "assets" / "demo").glob("*.json")}
    assert set(demo_visits.VISITS) <= there
    for name in demo_visits.VISITS:
        assert f"`{name}`" in row
        assert name in helped
    assert here("demo", "--visit", "nowhere") == cli.BAD
    assert "creekside" in capsys.readouterr().err
