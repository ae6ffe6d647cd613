"""The forms before the walk, one question at a time."""

from checks.check import Words as WordsInput
from checks.record import Decision
from fieldapp.screens.asking import Asked, Keeper, ask, explained, ways_on
from fieldapp.screens.guide import Guide
from fieldapp.screens.in_spite import in_spite
from fieldapp.screens.screen import Screen, guarded, key
from fieldapp.screens.standing import standing, told_aside
from fieldapp.walk import forms
from fieldapp.walk.desk import FORMS
from fieldapp.walk.questions import Questions
from fieldapp.walk.visit import WalkError
from fieldapp.widgets import ChoiceList, KeyButton, Words


class FormScreen(Screen):
    """A form; ``of`` is its id. Half-answered, it is still there the next time."""

    def __init__(self, guide: Guide) -> None:
        super().__init__(guide)
        self.title_lines = 0  # it is the question
        self._keeper = Keeper(self._keep)

    @property
    def _form(self) -> Questions:
        return self.guide.desk.form(FORMS[self.of])

    @property
    def _adds(self) -> bool:
        """Whether it is filled in for one more of an open visit."""
        return self.guide.walk is not None and self.of in (forms.POINT.id, forms.PANEL.id)

    def fill(self) -> None:
        """Ask the next question, or finish when there is none."""
        questions = self._form
        asked = questions.current
        if asked is None:
            self._finish()
            return
        here, total = questions.place
        self.title = asked.label
        self.subtitle = f"{questions.check.title} · {here} of {total}"
        self.progress = (here - 1) / total
        shown = ask(questions, self._answer, self._keeper.typed)
        body = (*explained(asked), *shown.body)
        if here == 1:
            body = (Words(text=questions.check.how), *body)
        if self.of == forms.SIGN_OFF.id:
            body = (*standing(self.guide), *told_aside(self.walk), *body)
        self.put(body=body, dock=shown.dock, actions=self._keys(questions, shown))

    def _keys(self, questions: Questions, shown: Asked) -> list[KeyButton]:
        return ways_on(
            questions,
            shown,
            previous=self._previous,
            pass_over=self._pass_over,
            take=self._answer,
        )

    def leave(self) -> None:
        """Keep the words that stand half typed."""
        self._keeper.flush()

    def up(self) -> None:
        """Leave the form; its answers stay."""
        asked_by = self._form.typed.get(forms.ASKED_BY, "")
        if self.of == forms.SIGN_OFF.id:
            self.guide.go("sign_off")
        elif asked_by:
            self.guide.go("correct", asked_by)
        else:
            self.guide.go("path" if self.guide.walk else "visits")

    def _answer(self, value: str) -> None:
        asked = self._form.current
        if not value and asked is not None and isinstance(asked, WordsInput):
            if asked.optional:
                self._pass_over()
                return
            raise WalkError(
                "nothing stands there yet", where=asked.label, remedy="Write a word or two"
            )
        if self._adds and asked is not None and asked.name == "name":
            self.walk.require_free_name(self.of, value)
        self._keeper.flush()
        is_decision = self.of == forms.SIGN_OFF.id and value == Decision.RETURN
        if not is_decision or not in_spite(self.guide, self._take):
            self._take(value)

    @guarded
    def _take(self, value: str) -> None:
        self.guide.desk.answer_form(self._form, value)
        self.enter(self.of)

    def _pass_over(self) -> None:
        self._keeper.forget()
        self.guide.desk.keep_form(self._form.passed_over())
        self.enter(self.of)

    def _previous(self) -> None:
        self._keeper.flush()
        before = self._form.back()
        if before is not None:
            self.guide.desk.keep_form(before)
        self.enter(self.of)

    def _keep(self, text: str) -> None:
        questions = self._form
        if questions.current is not None:
            self.guide.desk.keep_form(questions.typing(questions.current.name, text))

    def _finish(self) -> None:
        desk, guide = self.guide.desk, self.guide
        if self.of == forms.BEGIN.id:
            guide.go("form", forms.POINT.id)
        elif self.of == forms.SIGN_OFF.id:
            guide.go("signature")
        elif self.of in (forms.AGAIN.id, forms.AMEND.id):
            begin = desk.amend if self.of == forms.AMEND.id else desk.begin_again
            guide.walk = begin(self.walk.visit.id)
            guide.go("path")
        elif guide.walk is None:
            guide.walk = desk.begin_visit()
            guide.go("path")
        elif self.of == forms.PANEL.id:
            asked_by = self._form.typed.get(forms.ASKED_BY, "")
            guide.walk.add_panel(self._form.entry)
            desk.clear_form(forms.PANEL)
            if asked_by:
                guide.go("correct", asked_by)
            else:
                guide.go("points")
        else:
            self._finish_point()

    def _finish_point(self) -> None:
        panels = self.walk.visit.panels
        if len(panels) == 1:
            self._add_point(panels[0].id)
            return
        self.title, self.subtitle, self.progress = "Which panel feeds it?", "", 1.0
        rows = ChoiceList(options=[(p.id, p.name) for p in panels])
        rows.bind(on_choice=lambda _, panel: guarded(self._add_point)(panel))
        self.put(body=(rows,), actions=(key("Previous", self._previous),))

    def _add_point(self, panel: str) -> None:
        made = self.walk.add_point(self._form.entry, panel)
        self.guide.desk.clear_form(forms.POINT)
        self.walk.go_to_point(made)
        self.guide.go("path")
