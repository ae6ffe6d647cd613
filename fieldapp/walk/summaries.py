"""What the list of visits shows of each."""

from typing import Any

from pydantic import ValidationError

from checks import codes
from checks.assess import Assessment, assess
from checks.intake import read_visit
from checks.trends import called
from checks.verdict import Verdict
from fieldapp.store.sealing import Seal
from fieldapp.store.visits import Stored


def summary(stored: Stored) -> dict[str, Any]:
    """Return the few words and counts that a list of visits shows; of a signed one as signed."""
    visit = read_visit(stored.visit)
    found = as_signed(stored.seal)
    if found is None:  # nothing of what was set aside is in the list
        found = assess(visit, codes.profile(visit.code), with_set_aside=False)
    return {
        "site": visit.site.name,
        "address": visit.site.address,
        "called": sorted([name, address] for _, name, address in called(visit)),
        "kind": visit.kind.value,
        "started": visit.started,
        "is_invented": visit.is_invented,
        "is_signed": stored.seal is not None,
        "verdict": found.verdict.value,
        "outside": sum(f.row.judgement.verdict is Verdict.OUTSIDE for f in found.findings),
        "borderline": sum(f.row.judgement.verdict is Verdict.BORDERLINE for f in found.findings),
        "unfinished": len(found.unfinished),
        "findings": sorted({f.row.title for f in found.findings}),
    }


def as_signed(seal: Seal | None) -> Assessment | None:
    """Return the assessment in a seal; none in one that another program or an old version made."""
    if seal is None:
        return None
    try:
        return Assessment.model_validate(seal.content.get("assessment"), strict=False)
    except ValidationError:
        return None
