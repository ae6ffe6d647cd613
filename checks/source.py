"""Where a number or a rule comes from, or the admission that there is no source."""

from enum import StrEnum

from pydantic import BaseModel, ConfigDict


class Basis(StrEnum):
    """How well a source is known.

    ``LOOKED_UP`` was read in a text; ``FROM_MEMORY`` was recalled and not seen; ``DOUBTFUL`` was
    seen, but texts disagree or the reading is disputed; ``COMMON_PRACTICE`` is a fact of the
    trade that nobody prints; ``OWN_JUDGEMENT`` is this project's engineering judgement.
    """

    LOOKED_UP = "looked up"
    FROM_MEMORY = "from memory"
    DOUBTFUL = "doubtful"
    COMMON_PRACTICE = "common practice, no source"
    OWN_JUDGEMENT = "own judgement, no source"


class Source(BaseModel):
    """A place in a published document.

    Parameters
    ----------
    document : str
        Title or number of the document; for the trade's own knowledge, what it rests on.
    edition : str
        Edition or year; empty where there is none.
    clause : str
        Clause, table or page; empty where there is none.
    basis : Basis
        How well it is known.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    document: str
    edition: str = ""
    clause: str = ""
    basis: Basis

    @property
    def can_prove(self) -> bool:
        """Whether a limit from here may yield ``within``; one from memory may only warn."""
        return self.basis not in (Basis.FROM_MEMORY, Basis.DOUBTFUL)

    def __str__(self) -> str:
        """One line for a report row; a basis other than a text that was read is said."""
        place = " ".join(part for part in (self.document, self.edition, self.clause) if part)
        if self.basis is Basis.LOOKED_UP:
            return place
        return f"{place} ({self.basis})" if place else str(self.basis)


def trade(what: str) -> Source:
    """Return the source of a fact of the trade that no document was read for."""
    return Source(document=what, basis=Basis.COMMON_PRACTICE)


def judgement(what: str) -> Source:
    """Return the source of a limit that rests on this project's own engineering judgement."""
    return Source(document=what, basis=Basis.OWN_JUDGEMENT)
