"""The hand that goes on an invented service call: finds what its scenario says, by touches only."""

from collections.abc import Mapping
from typing import Any, Final

from checks.check import AnyInput, CircuitState
from checks.stations.all import BY_ID
from fieldapp.demo import Call, Deed, Found
from fieldapp.walk.agenda import Step
from fieldapp.walk.thread import thread
from tests.ui.driver import Ui
from tests.ui.hand import Hand

CAUSES: Final = "Likely causes"


class Caller(Hand):
    """Who follows the main key on a service call, and looks where else the scenario says.

    Parameters
    ----------
    ui : Ui
        The app, on its empty list.
    told : Mapping
        The scenario.
    """

    def __init__(self, ui: Ui, told: Mapping[str, Any]) -> None:
        super().__init__(ui, self._said)
        self.told, self.call = told, Call(told)
        self.found: Found = {}
        self.suspects: list[str] = []  # the leading causes, one after the other

    def begin_call(self) -> None:
        """From the empty list to the path of the call."""
        self.begin(**self.told["begin"], **self.told["point"])

    def solve(self) -> None:
        """Make the call, from the plates to where a person decides."""
        while (deed := self.call.next(self.walk)) is not None:
            first = thread(self.walk).ranking.causes[0].cause
            self.suspects += [first] if first not in self.suspects[-1:] else []
            if isinstance(deed, CircuitState):
                self.go_on()
                self.bring_into_state()
            else:
                self._make(deed)
        self.to_causes()

    def go_on(self) -> None:
        """Press the main key of a result, or of the causes, to what comes next on the call."""
        if self.at == "result" and self.press_main() != CAUSES:
            return
        self.to_causes()
        self.press_main()

    def to_causes(self) -> None:
        """Press the main key until the causes are up; the path leads to them."""
        if self.at in ("check", "result"):
            self.to_path()
        while self.at != "causes":
            self.press_main()

    def _make(self, deed: Deed) -> None:
        coming = thread(self.walk).next
        if self.at == "check" and self.walk.is_open(deed.check):
            pass  # the walk led straight on to it
        elif isinstance(coming, Step) and coming.row.check == deed.check:
            self.go_on()
        else:
            self._find(deed.check)
        self.found = deed.found
        self.make_check()

    def _find(self, check: str) -> None:
        """Open a check at its station; one that was made is measured again."""
        title = BY_ID[check].title
        self.to_path()
        self.station(check.split(".")[0])
        self.ui.show(self.ui.find_text(title))
        self.ui.tap_text(title)
        if self.at == "result":
            words = "Read wrongly: measure again"
            self.ui.tap_text(words if self.ui.sees(words) else "Measure again")

    def _said(self, check: str, asked: AnyInput) -> str:
        found = str(self.found.get(asked.name, ""))
        assert found or asked.optional, f"the scenario does not say {check}.{asked.name}"
        return found

    def number(self, value: str) -> None:
        """Type a number as the scenario has it: digits, unit, and an instrument where it names one.

        The unit is the one that is offered first.
        """
        digits, unit, tool = [*value.split(" "), "", ""][:3]
        asked = self.walk.questions.current
        assert unit in ("", asked.units[0])
        if tool:
            fit = self.walk.instruments_for(asked)
            if fit[0].id != tool:
                self.ui.tap_text(fit[0].name)
                self.ui.tap_text(next(i.name for i in fit if i.id == tool))
        super().number(digits)
