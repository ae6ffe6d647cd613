"""NEC 2023: how equipment is installed and kept; other sources on a bus; cover of buried wiring."""

from collections.abc import Mapping
from typing import Final

from checks.codes.nec_2023.source import nec
from checks.codes.profile import InstallationRules, Rule
from checks.source import Basis, Source
from checks.verdict import Force

# Subject, rule in our own words.
SEEN: Final[Mapping[str, Rule[str]]] = {
    "service protection": Rule(
        "A service is protected at or below what its conductors and equipment bear", nec("230.90")
    ),
    "bus protection": Rule("A bus is protected at or below its rating", nec("408.36")),
    "listed use": Rule(
        "Listed equipment is used as its listing and instructions say",
        nec("110.3(B)"),
        Force.LISTING,
    ),
    "interrupting": Rule(
        "A device interrupts at least the fault current available at its line terminals",
        nec("110.9"),
    ),
    "integrity": Rule("No part is damaged, overheated, corroded or contaminated", nec("110.12(B)")),
    "openings": Rule("Unused openings are closed", nec("110.12(A), 408.7")),
    "one conductor": Rule(
        "A terminal holds one conductor unless it is identified for more",
        nec("110.14(A), 408.41"),
    ),
    "aluminum terminals": Rule(
        "Terminals for aluminum conductors are so identified", nec("110.14(A)")
    ),
    "torque": Rule(
        "A terminal is tightened to the value on the equipment by an approved means",
        nec("110.14(D)"),
    ),
    "directory": Rule("Every circuit is identified legibly and specifically", nec("408.4(A)")),
    "working space": Rule("The working space is kept clear", nec("110.26(B)")),
    "neutral bond": Rule(
        "The neutral is bonded at the service equipment and nowhere on its load side",
        nec("250.24, 250.142(B)"),
    ),
    "grounding path": Rule(
        "Rigid and intermediate metal conduit and electrical metallic tubing may serve as the "
        "equipment grounding conductor; flexible conduit only within limits",
        nec("250.118"),
    ),
    "wet raceway": Rule(
        "Inside a raceway in a wet place or underground it is wet", nec("300.5(B), 300.9")
    ),
    "damage": Rule(
        "Conductors, raceways and cables are protected against physical damage", nec("300.4")
    ),
    "support": Rule(
        "Cables and raceways are secured and supported as their own article asks",
        nec("334.30 and its like for each wiring method"),
    ),
    "tamper resistance": Rule(
        "A dwelling's receptacle of 15 A or 20 A is tamper-resistant, unless it is more than "
        "1.7 m above the floor",
        Source(document="NEC (NFPA 70)", edition="2017", clause="406.12", basis=Basis.LOOKED_UP),
    ),
    "listed charger": Rule("EV supply equipment is listed", nec("625.6"), Force.LISTING),
    "adjusted rating": Rule(
        "An adjustable rating counts as set where access is restricted and the label shows it",
        nec("625.42(B), 750.30(C)"),
    ),
    "managed load": Rule(
        "A load that management holds counts as held; internal load management is marked",
        nec("625.42(A)"),
    ),
    "managed marking": Rule(
        "The supply equipment shows the greatest setting, the date of calculation and setting, "
        "sources and loads, and that it is not to be bypassed",
        nec("750.30(C)", Basis.FROM_MEMORY),
    ),
    "self-protection": Rule(
        "EV supply equipment has a listed system that protects people", nec("625.22")
    ),
    "lockable disconnect": Rule(
        "A disconnecting means is readily accessible and can be locked open",
        nec("625.43, 110.25"),
    ),
    "ventilation": Rule(
        "Indoors the equipment is listed for charging without ventilation, or ventilation runs, "
        "interlocked, for the whole charge",
        nec("625.52"),
    ),
    "vehicle impact": Rule(
        "Equipment where vehicles move is guarded against them",
        nec("110.27(B)", Basis.FROM_MEMORY),
    ),
    "surge": Rule(
        "A new or replaced service of a dwelling has a listed surge-protective device of type 1 "
        "or 2, there or at each next panel",
        nec("230.67"),
    ),
    "fire-stopping": Rule(
        "Openings through fire-rated walls, floors and ceilings are sealed by an approved method",
        nec("300.21"),
    ),
    "identification": Rule(
        "Neutral and equipment grounding conductor are told by their color; from 4 AWG on marks "
        "at the ends will do",
        nec("200.6, 250.119"),
    ),
    "classified place": Rule(
        "In a place with flammable gas or vapor only equipment identified for it is used",
        nec("articles 500, 511, 514", Basis.FROM_MEMORY),
    ),
}

# Table 300.5(A): least cover for what lies above, one column a wiring method. [m]
TABLE_300_5_A: Final = nec("table 300.5(A)")
COVER_M: Final[Mapping[str, Rule[Mapping[str, float]]]] = {
    above: Rule(
        {
            "cable": cable,
            "metal conduit": metal,
            "tubing": tubing,
            # a dwelling's circuit of 120 V and at most 20 A behind a ground-fault device
            "protected small circuit": small,
        },
        TABLE_300_5_A,
    )
    for above, cable, metal, tubing, small in (
        ("general", 0.6, 0.15, 0.45, 0.3),
        ("driveway", 0.45, 0.45, 0.45, 0.3),
        ("street", 0.6, 0.6, 0.6, 0.6),
    )
}

# The ratios were read in pages on this edition's rule, the plain sum in the text of the one before.
OPPOSITE_ENDS: Final = nec("705.12(B)(2)")
PLAIN_SUM: Final = Source(
    document="NEC (NFPA 70)", edition="2020", clause="705.12(B)(3)(1)", basis=Basis.LOOKED_UP
)

INSTALLATION: Final = InstallationRules(
    seen=SEEN,
    source_output_ratio=Rule(1.25, OPPOSITE_ENDS),
    bus_ratio={
        "opposite end": Rule(1.2, OPPOSITE_ENDS),
        "elsewhere": Rule(1.0, PLAIN_SUM),
    },
    cover_m=COVER_M,
)
