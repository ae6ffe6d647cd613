"""The words of the trade, the five words of a verdict, and no word that could hurt someone.

DEVELOPERS.md holds the glossary; here stand the synonyms that it replaces.
"""

import ast
import hashlib
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from checks.stations.all import CHECKS
from checks.verdict import Severity, Verdict

ROOT = Path(__file__).resolve().parents[2]
SOURCES = sorted(p for root in ("checks", "fieldapp") for p in (ROOT / root).rglob("*.py"))
LAYOUTS = sorted((ROOT / "fieldapp").rglob("*.kv"))

# What an identifier must not say, and the one word for it.
SYNONYMS = {
    "earth": "ground",
    "earthing": "grounding",
    "earthed": "grounded",
    "socket": "receptacle",
    "mains": "supply",
    "amperage": "current, in _a",
    "wattage": "power, in _w",
    "ohmage": "resistance, in _ohm",
    "voltage drop percent": "drop_pct",
    "percent drop": "drop_pct",
    "drop percent": "drop_pct",
    "rcd": "ground-fault device",
    "rcbo": "ground-fault device",
    "rccb": "ground-fault device",
    "mcb": "breaker",
    "cpc": "equipment grounding conductor",
    "fusebox": "panel",
    "fuse box": "panel",
    "consumer unit": "panel",
    "distribution board": "panel",
    "charge point": "charging point",
    "charge station": "charger",
    "charging station": "charger",
    "wall box": "charger",
    "gun": "connector",
    "nozzle": "connector",
    "dongle": "adapter",
    "hot wire": "ungrounded conductor",
    "live wire": "ungrounded conductor",
    "ground wire": "equipment grounding conductor",
    "tightness": "torque",
    "colour": "color",
    "metre": "meter",
    "aluminium": "aluminum",
    "neighbour": "neighbor",
    "grey": "gray",
}

# Verdicts and judgements of others: ours are the five words, and a recommendation is not a law.
OTHER_VERDICTS = re.compile(
    r"\b(PASS|FAIL|PASSED|FAILED|pass/fail|[Nn]on-?compliant|[Cc]ompliant|[Aa]cceptable"
    r"|[Uu]nacceptable|[Ii]n spec|[Oo]ut of spec|in tolerance|out of tolerance|fails? the check"
    r"|check (passed|failed))\b"
)

# The project speaks of the work on site and of nothing else: of no numbered issue, and of no folder
# of the machine that it was written on.
OF_ITS_MAKING = re.compile(
    r"\bissue #?\d+|(?<![\w./])/[a-z][\w.-]*/|(?<!\w)~/|\b[a-z]:\\(?=\w{2})", re.I
)

# What else nobody reads here, and the names of makers: by the first ten digits of the SHA-256 of
# the lower-case words, for a list of the words themselves would be the naming that this forbids.
UNSAID_DIGESTS = "3f3af1eceb 1225ae6c1a a39a7ffad4 eea82f53ec ec3f4a4cd1 216d3696f4 3db2bc88dd"
MAKER_DIGESTS = (
    "0600c79833 0b51b6b03a 0d05674311 12c4638814 186af6b544 1aba79d8a1 1e436fc7f3 28236bb680 "
    "2f6195f169 337b8d2c1e 3641b0a73f 37268bb002 3bfa55d5cb 3e24f1f167 40fc6718a8 "
    "44e8dd36c5 4d13e1dbe7 4fc433da11 5a7c6f921f 5e14b21161 651b8ff346 699949a69f 715edf8ba8 "
    "7358bd4ec8 7625d82f19 77bab894cf 7bb050918d 7ca0172850 7d35ada848 81b8c84b83 8417659f46 "
    "85ed1a966f 8626eaedca 8652f6cd90 8b5b4f7c5c 9060ae41ce 917ebb3396 933e3d170e 948278737a "
    "96b66649b1 9a046660ab 9adc152cb1 9c15e81606 9e48bad6e3 a33b7db992 a474219e5e a81e9a7b74 "
    "a8d1f1498a aa59343f9e ac85892205 ae9fd2882d afd1ef2d67 b25d00fbde b2808c947e b51026e444 "
    "b942714f0e bccae4ce7b bd06e0108a c29689bb61 c37b79a051 c3f01efafd c5f975b35c c7ad2ac22b "
    "c8265afeca c9b556cc1c cb01c4c212 cc2a412a02 cc6e872950 d254fa846e d5fa672c1e d9b9c40d0e "
    "de583ceeb8 e126893893 e4d0022625 e5787dfc06 ea18997d61 f3c559fc42 f544ed41c4 ff9e94ab87 "
)
MAKERS = frozenset(MAKER_DIGESTS.split())
UNSAID = frozenset(UNSAID_DIGESTS.split())
PHRASES = (r"\b[a-z]+", r"\b[a-z]+ [a-z]+", r"/\w+/", r"/\w+/\w+")  # words, pairs, parts of paths


# -- reading the source --------------------------------------------------------------------------
def identifiers(tree: ast.AST) -> Iterator[tuple[int, str]]:
    for node in ast.walk(tree):
        match node:
            case ast.Name(id=name) | ast.Attribute(attr=name) | ast.arg(arg=name):
                yield node.lineno, name
            case ast.FunctionDef(name=name) | ast.ClassDef(name=name):
                yield node.lineno, name
            case ast.keyword(arg=str(name)):
                yield node.value.lineno, name
            case _:
                pass


def in_words(identifier: str) -> str:
    """An identifier as lower-case words: ``LoadedDropV`` and ``loaded_drop_v`` are the same."""
    return " ".join(re.findall(r"[A-Z]+(?![a-z])|[A-Z]?[a-z]+|[0-9]+", identifier)).lower()


def synonym(identifier: str) -> str:
    """The refused word in an identifier, with the one to use; empty when there is none."""
    words = f" {in_words(identifier)} "
    found = next((s for s in SYNONYMS if f" {s} " in words), "")
    return f"{found}: say {SYNONYMS[found]}" if found else ""


def texts(source: str) -> Iterator[tuple[int, str]]:
    """Every text of a module that a person may read: no docstrings, f-strings put together."""
    tree = ast.parse(source)
    silent = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            silent.add(id(node.value))
        if isinstance(node, ast.JoinedStr):
            silent |= {id(part) for part in node.values}
            parts = [p.value if isinstance(p, ast.Constant) else "…" for p in node.values]
            yield node.lineno, "".join(str(p) for p in parts)
    for node in ast.walk(tree):
        is_text = isinstance(node, ast.Constant) and isinstance(node.value, str)
        if is_text and id(node) not in silent:
            yield node.lineno, node.value


@cache
def all_texts() -> tuple[tuple[str, str], ...]:
    read = [(path, texts(path.read_text(encoding="utf-8"))) for path in SOURCES]
    laid = [(p, enumerate(p.read_text(encoding="utf-8").splitlines(), 1)) for p in LAYOUTS]
    return tuple(
        (f"{path.relative_to(ROOT)}:{line}", text)
        for path, found in (*read, *laid)
        for line, text in found
    )


def digest(words: str) -> str:
    return hashlib.sha256(words.encode()).hexdigest()[:10]


def makers(text: str) -> list[str]:
    words = re.findall(r"[a-z0-9][a-z0-9-]*", text.lower())
    return [w for w in words if digest(w) in MAKERS]


def unsaid(text: str, digests: frozenset[str] = UNSAID) -> list[str]:
    words = " ".join(text.lower().split())
    phrases = (p for pattern in PHRASES for p in re.findall(rf"(?=({pattern}))", words))
    return [phrase for phrase in dict.fromkeys(phrases) if digest(phrase) in digests]


def of_its_making(text: str, digests: frozenset[str] = UNSAID) -> list[str]:
    """What a text says of how or where the project was made."""
    return [*(m[0] for m in OF_ITS_MAKING.finditer(text)), *unsaid(text, digests)]


# -- the laws ------------------------------------------------------------------------------------
def test_identifiers_say_the_trades_own_words():
    found = [
        f"{path.relative_to(ROOT)}:{line} {name}: {synonym(name)}"
        for path in SOURCES
        for line, name in identifiers(ast.parse(path.read_text(encoding="utf-8")))
        if synonym(name)
    ]
    assert found == []


def test_the_person_on_site_reads_the_same_words():
    pattern = re.compile(rf"\b({'|'.join(map(re.escape, SYNONYMS))})\b", re.I)
    assert [f"{w} {m[0]!r}" for w, text in all_texts() if (m := pattern.search(text))] == []


def test_there_are_five_verdict_words_and_no_other_is_said():
    assert len(Verdict) == 5
    assert [f"{w} {m[0]!r}" for w, text in all_texts() if (m := OTHER_VERDICTS.search(text))] == []


def test_a_recommendation_is_never_called_a_violation():
    assert [w for w, text in all_texts() if re.search(r"\bviolat", text, re.I)] == []


def test_no_maker_is_named():
    whole = [
        (f"{path.relative_to(ROOT)}", path.read_text(encoding="utf-8"))
        for path in (*SOURCES, *LAYOUTS, *sorted((ROOT / "tests").rglob("*.py")))
    ]
    assert [f"{where}: {makers(text)}" for where, text in whole if makers(text)] == []


def test_the_project_speaks_of_the_work_on_site_alone():
    whole = [
        (f"{path.relative_to(ROOT)}", path.read_text(encoding="utf-8"))
        for path in (*SOURCES, *LAYOUTS, *sorted(ROOT.glob("*.md")))
    ]
    read = (*all_texts(), *whole)  # a text may be put together from lines that are apart
    assert [f"{where}: {said}" for where, text in read if (said := of_its_making(text))] == []


def test_nor_does_what_checks_and_packs_it():
    """These name folders of any machine, and a fixture's scope in the words of its library."""
    kinds = {".py", ".txt", ".spec", ".sh", ".cir", ""}
    files = [
        path
        for root in ("tests", ".ci", "assets/android")
        for path in (ROOT / root).rglob("*")
        if path.suffix in kinds and path.is_file()
    ]
    assert len(files) > 100
    for path in (ROOT / "pyproject.toml", *files):
        text = re.sub(r'scope="\w+"', "", path.read_text(encoding="utf-8"))
        assert unsaid(text) == [], path.relative_to(ROOT)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("See issue #12", ["issue #12"]),
        ("Read /home/somebody/notes first", ["/home/"]),
        ('open("/tmp/scratch/list.txt")', ["/tmp/"]),
        ("kept in ~/notes", ["~/"]),
        (r"kept in C:\Users\somebody", ["C:\\"]),
        ("A planted_word, said", ["planted"]),
        ("two planted\n  words", ["planted", "planted words"]),
        ("some/planted/words", ["planted", "/planted/", "/planted/words"]),
        ("unplanted, plantedly", []),
        ("m/s, and/or, N/A, ./.ci/check, https://example.org/a/b", []),
    ],
)
def test_such_a_word_or_path_would_be_seen(text: str, found: list[str]):
    planted = frozenset(map(digest, ("planted", "planted words", "/planted/", "/planted/words")))
    assert of_its_making(text, planted) == found


# -- instructions that could hurt someone --------------------------------------------------------
LIVE = r"(bus ?bars?|bare (conductor|wire|part)s?|live (part|terminal|conductor)s?|line side)"
SHUT_OFF = r"(under load|while (it|current|the vehicle)[^.]*(flow|charg)|during the charge|live)"

# What no instruction says, and why. Matched sentence by sentence, where no word of refusal stands.
FORBIDDEN = {
    rf"\b(touch|grip|hold|feel|reach (into|behind)|put (a|your) (hand|finger))\b[^.]*\b{LIVE}": (
        "a hand at a live part"
    ),
    rf"\b(probe|measure (on|at)|test (on|at)|clip|clamp)\b[^.]*\b{LIVE}": (
        "a probe at an unguarded live part"
    ),
    r"\b(pry|prise|lever|wedge|hammer)\b|\bforce (it|the [a-z]+) (open|off|out|free|home)\b": (
        "a stuck part comes free all at once, with its contacts open"
    ),
    rf"\b(unplug|disconnect|pull( out)?|withdraw|remove)\b[^.]*\b{SHUT_OFF}": (
        "an arc where a contact opens under current"
    ),
    r"\breset (it|the|a|this|and)\b|\bre-?close\b|\bswitch (it|the breaker) (back )?on again\b": (
        "closing onto a fault that nobody found feeds it again"
    ),
    r"\b(swap|exchange|try (a|another))\b[^.]*\b(breaker|fuse|ground-fault|gfci|device)\b": (
        "a protective device is not changed to see"
    ),
    r"\b(larger|bigger|higher-rated) (breaker|fuse)\b": (
        "a larger breaker leaves the conductor without protection"
    ),
    r"\b(energi[sz]e|switch (it |the circuit )?on|power up)\b[^.]*\b(wet|burnt|damaged|cracked)": (
        "a wet or burnt part gets no voltage"
    ),
    r"\b(bypass|defeat|override|jumper|bridge) (\w+ ){0,2}(interlock|latch|breaker|device)\b": (
        "protection that is bridged protects nobody"
    ),
    r"\b(go on|continue|keep)\b[^.]*\b(charg|current|load)[^.]*\b(smell|smoke|discolor|hot)": (
        "no current stays in a part that is seen damaged"
    ),
    r"\b(open|remove|take off)\b[^.]*\b(cover|dead front|enclosure)[^.]*\b(live|energi[sz]ed)": (
        "a cover comes off a circuit that is dead and proved"
    ),
    r"\bcut (off )?the ground|\b(lift|remove|float)\b[^.]*\b(grounding conductor|ground pin)\b": (
        "without its ground a fault puts the case at line voltage"
    ),
}
REFUSAL = re.compile(
    r"\b(no|not|never|nothing|none|nobody|without|cannot|instead of|before|until|first|only)\b",
    re.I,
)


def hurts(text: str) -> str:
    """Why an instruction could hurt someone; empty when nothing in it is known to."""
    for sentence in re.split(r"[.;:!?]", text):
        for pattern, reason in FORBIDDEN.items():
            found = re.search(pattern, sentence, re.I)
            if found and not REFUSAL.search(sentence):
                return f"{found[0]!r}: {reason}"
    return ""


def test_no_instruction_could_hurt_the_one_who_follows_it():
    trade = [(w, t) for w, t in all_texts() if w.startswith("checks/") or "/walk/" in w]
    assert len(trade) > 500
    assert [f"{where} {hurts(text)}" for where, text in trade if hurts(text)] == []


@pytest.mark.parametrize(
    "text",
    [
        "Touch the bus bar to feel its warmth",
        "Hold the live conductor aside",
        "Put the probe on the bare conductor",
        "Pry the connector out of the inlet",
        "Force the plug home",
        "Unplug the cord while current flows",
        "Pull the connector under load and look for an arc",
        "Reset the breaker and see",
        "Switch the breaker on again",
        "Swap the breaker for one of the same rating",
        "Install a larger breaker",
        "Energize the wet receptacle for a moment",
        "Bypass the interlock",
        "Keep charging at half current if it is hot",
        "Remove the dead front of the energized panel",
        "Lift the grounding conductor and read again",
    ],
)
def test_such_an_instruction_would_be_seen(text: str):
    assert hurts(text)
    assert hurts(f"Look at it; {text.lower()}.")


@pytest.mark.parametrize(
    "text",
    [
        "Touch nothing: live parts are near",
        "Pull no plug, connector or adapter while current flows",
        "Do not reset the breaker",
        "Leave it off until insulation, ground fault and load have been checked",
        "Never pry a stuck connector",
    ],
)
def test_a_warning_is_not_taken_for_an_instruction(text: str):
    assert not hurts(text)


def test_what_is_outside_and_dangerous_stops_the_current_or_keeps_it_off():
    """A caution of a check that works under load names the signs that end it."""
    under_load = [c for c in CHECKS if c.state.value == "under load" and c.cautions]
    assert under_load
    words = re.compile(r"smell|discolor|stop|end the charge|hiss|smoke", re.I)
    silent = [
        c.id for c in under_load if not any(words.search(caution.text) for caution in c.cautions)
    ]
    assert silent == []
    assert Severity.DANGER.value == "danger"


@pytest.mark.parametrize(
    ("identifier", "found"),
    [
        ("earth_ohm", True),
        ("SocketKind", True),
        ("mains_v", True),
        ("voltage_drop_percent", True),
        ("ground_wire", True),
        ("unearthed", False),
        ("sockets_a", False),
        ("ground_ohm", False),
        ("domains", False),
    ],
)
def test_a_synonym_in_an_identifier_would_be_seen(identifier: str, found: bool):
    assert bool(synonym(identifier)) is found
