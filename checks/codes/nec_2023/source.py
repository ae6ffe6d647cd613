"""Citing this edition."""

from checks.source import Basis, Source


def nec(clause: str, basis: Basis = Basis.LOOKED_UP) -> Source:
    """Return a place in this edition."""
    return Source(document="NEC (NFPA 70)", edition="2023", clause=clause, basis=basis)
