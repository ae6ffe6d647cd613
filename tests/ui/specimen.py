"""Every widget on invented pages, to be looked at: ``python -m tests.ui.specimen FOLDER``."""

import sys
from functools import partial
from pathlib import Path

from checks.verdict import Verdict
from fieldapp.figures.gauge import GaugeLimit, Reading, gauge
from fieldapp.figures.one_line import StationMark, one_line
from fieldapp.figures.staircase import Step, VoltLimit, staircase
from fieldapp.theme import SEVERITIES
from fieldapp.walk.numbers import press
from fieldapp.widgets import (
    Actions,
    Card,
    CautionSheet,
    ChoiceList,
    DangerButton,
    Dock,
    IconButton,
    NumberPad,
    Page,
    PrimaryButton,
    Readout,
    RowList,
    SceneView,
    SecondaryButton,
    SeverityBanner,
    SignaturePad,
    TextEntry,
    ValueDisplay,
    VerdictTag,
    Words,
    WorkBar,
    YesNo,
    theme,
)
from tests.ui.driver import App, Ui
from tests.ui.loop import SIZES, window

STATIONS = (
    StationMark("service", "Service", "service", "within", "241.8 V"),
    StationMark("panel", "Panel A", "panel", "borderline", "38 A"),
    StationMark("breaker", "Breaker", "breaker", "within", "40 A"),
    StationMark("run", "Run", "run", "within", "23 m"),
    StationMark("outlet", "Outlet 1", "outlet", "outside", "61 °C"),
    StationMark("charger", "Charger", "charger", "not measured"),
    StationMark("connector", "Connector", "connector", "not measured"),
    StationMark("adapter", "Adapter", "adapter", "not applicable"),
    StationMark("vehicle", "Vehicle", "vehicle", "not measured"),
    StationMark("surroundings", "Surroundings", "surroundings", "within", on_path=False),
    StationMark("handover", "Handover", "handover", "not measured", on_path=False),
)
STEPS = (
    Step("Panel A", 241.8, 240.1),
    Step("Outlet 1", 241.6, 234.9),
    Step("Charger", 241.5, 234.2),
    Step("Connector", None, 233.8),
)


def below_limit(text: str, width: float, verdict: str = "within") -> object:
    """A drop against its limit, as typed."""
    reading = None
    if text:
        value = float(text)
        reading = Reading(value, value - 0.25, value + 0.25, verdict)
    limits = [GaugeLimit(3.0, "at most 3.0 %")]
    return gauge(limits, reading, 0, 6, "below", width, text_scale=theme.text_scale)


def reading_page() -> Page:
    """One measurement with its limit in view."""
    page = Page(title="Drop under load", subtitle="Outlet 1 · under load", progress=0.55)
    page.add_to_header(IconButton(icon="light", text="Light"))
    page.add_widget(
        Words(text="Leg to leg at the outlet, probes on the tester's leads, after one minute.")
    )
    readout = Readout()
    display = ValueDisplay(title="Voltage drop", unit="%")
    pad = NumberPad(press)

    def typed(_pad: NumberPad, text: str) -> None:
        value = float(text) if text not in ("", "-") else None
        display.text = text
        display.verdict = (
            "not measured"
            if value is None
            else "within"
            if value < 2.75
            else "borderline"
            if value <= 3.25
            else "outside"
        )
        display.figure = partial(below_limit, text if value else "", verdict=display.verdict)

    display.figure = partial(below_limit, "")
    pad.bind(text=typed)
    readout.add_widget(display)
    dock = Dock()
    dock.add_widget(pad)
    page.pad, page.display = pad, display
    _fill(page, readout, dock, ("Can't measure", "Save reading"))
    return page


def path_page() -> Page:
    """The current's path."""
    page = Page(title="Charging point 1", subtitle="Invented site", progress=0.4)
    card = Card(padding=0)
    scene = partial(_one_line)
    card.add_widget(SceneView(build=scene))
    page.add_widget(card)
    _fill(page, None, None, ("Findings", "Next check"))
    return page


def _one_line(width: float) -> object:
    return one_line(STATIONS, width, text_scale=theme.text_scale, current="outlet")


def stairs_page() -> Page:
    """Where the volts go."""
    page = Page(title="Where the volts go", subtitle="Invented readings")
    card = Card()
    card.add_widget(SceneView(build=_stairs))
    page.add_widget(card)
    gauges = Card()
    gauges.add_widget(Words(text="Outlet, loaded", strong=True))
    gauges.add_widget(SceneView(build=_between))
    page.add_widget(gauges)
    wide = Card(padding=0)
    if theme.text_scale == 1:
        wide.add_widget(SceneView(build=partial(one_line, STATIONS[:9], orientation="horizontal")))
        page.add_widget(wide)
    return page


def _stairs(width: float) -> object:
    limits = (VoltLimit("branch limit", 234.5),)
    return staircase(STEPS, limits, width, text_scale=theme.text_scale)


def _between(width: float) -> object:
    limits = [GaugeLimit(216, "216 V"), GaugeLimit(252, "252 V")]
    reading = Reading(217.1, 215.2, 219.0, "borderline")
    return gauge(limits, reading, 204, 264, "between", width, text_scale=theme.text_scale)


def marks_page() -> Page:
    """Verdicts, severities, keys, progress."""
    page = Page(title="Words and shapes", subtitle="Every verdict, every signal")
    tags = Card()
    for verdict in Verdict:
        tags.add_widget(VerdictTag(verdict=verdict))
    page.add_widget(tags)
    text = "Terminals discolored. Leave the breaker open until the receptacle is replaced."
    for severity in SEVERITIES:
        page.add_widget(SeverityBanner(severity=severity, text=text))
    page.add_widget(WorkBar(text="Writing the report, page 3 of 8", fraction=0.4))
    page.add_widget(SecondaryButton(text="Add a photo", icon="camera"))
    page.add_widget(DangerButton(text="Delete visit"))
    page.add_widget(PrimaryButton(text="Not yet", disabled=True))
    _fill(page, None, None, ("Report",))
    return page


def choice_page() -> Page:
    """Choices that have no default."""
    page = Page(title="Receptacle", subtitle="Outlet 1 · dead and proved", progress=0.3)
    page.add_widget(Words(text="Which configuration is installed?", role="lead", strong=True))
    kinds = [
        ("14-50", "14-50", "50 A, 125/250 V, four wires"),
        ("6-50", "6-50", "50 A, 250 V, three wires"),
        ("5-20", "5-20", "20 A, 125 V"),
        ("none", "Hard-wired, no receptacle"),
    ]
    page.choice = ChoiceList(options=kinds)
    page.add_widget(page.choice)
    dock = Dock()
    dock.add_widget(Words(text="Any heat marks or melted plastic?", role="lead", strong=True))
    page.yes_no = YesNo()
    dock.add_widget(page.yes_no)
    _fill(page, None, dock, ("Save",))
    return page


def sign_page() -> Page:
    """Name and signature."""
    page = Page(title="Sign off", subtitle="Invented technician", progress=0.95)
    page.name = TextEntry(label="Name", hint="First and last name")
    page.add_widget(page.name)
    note = TextEntry(label="License number", text="EL-000", problem="Enter the whole number")
    page.add_widget(note)
    dock = Dock()
    page.pad = SignaturePad()
    dock.add_widget(page.pad)
    _fill(page, None, dock, ("Sign",))
    return page


def list_page() -> Page:
    """A long list."""
    page = Page(title="Visits", subtitle="Invented", has_back=False, scrolls=False)
    page.rows = RowList()
    signs = (*Verdict, *SEVERITIES, "")
    rows = [
        {
            "key": i,
            "title": f"Invented garage {i}, charging point with a longer name",
            "subtitle": "Commissioning · 12 of 31 checks",
            "sign": signs[i % len(signs)],
        }
        for i in range(400)
    ]
    page.chosen = []
    page.rows.show(rows, page.chosen.append)
    page.add_widget(page.rows)
    _fill(page, None, None, ("New visit",))
    page.offer_undo("Visit deleted", lambda: page.chosen.append("undone"))
    return page


def caution_sheet(accepted: list[str]) -> CautionSheet:
    """What is asked before energizing."""
    cautions = [
        ("danger", "The circuit will be live. Close covers, warn everyone at the site."),
        ("warning", "Keep hands out of the panel. Use probes of the category it needs."),
        ("caution", "Stop at smell, discoloration or a rise that speeds up."),
    ]
    return CautionSheet(
        cautions,
        lambda: accepted.append("accepted"),
        lambda: accepted.append("declined"),
        title="Before energizing",
        accept_text="I have read these",
    )


def _fill(page: Page, readout: Readout | None, dock: Dock | None, words: tuple[str, ...]) -> None:
    for part in (readout, dock):
        if part is not None:
            page.add_widget(part)
    actions = Actions()
    for word in words[:-1]:
        actions.add_widget(SecondaryButton(text=word))
    actions.add_widget(PrimaryButton(text=words[-1]))
    page.add_widget(actions)


PAGES = {
    "reading": reading_page,
    "path": path_page,
    "stairs": stairs_page,
    "marks": marks_page,
    "choice": choice_page,
    "sign": sign_page,
    "list": list_page,
}


class Specimen(App):
    """Shows one page."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.page_name = name

    def build(self) -> Page:
        return PAGES[self.page_name]()


def main(folder: Path, only: str = "") -> None:
    """Draw pages × sizes × themes into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for size, pixels in SIZES.items():
        with window(pixels):
            for name in (*PAGES, "caution"):
                for palette in ("day", "night", "outdoor"):
                    shot = f"{name}-{size}-{palette}"
                    if only in shot:
                        theme.name = palette
                        _shoot(name, folder / f"{shot}.png")


def _shoot(name: str, file: Path) -> None:
    ui = Ui(Specimen("reading" if name == "caution" else name))
    if name == "reading":
        ui.pad("2.9")
    if name == "caution":
        caution_sheet([]).open()
    if name == "choice":
        ui.tap_text("14-50")
    ui.settle()
    ui.pixels().save(file)
    ui.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]), *sys.argv[2:])
