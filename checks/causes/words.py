"""A ranking as plain lines, for whoever reads without a screen."""

from collections.abc import Iterator

from checks.causes.model import Ground, NextTest, RankedCause, Ranking, Standing


def lines(ranking: Ranking) -> Iterator[str]:
    """Yield a ranking line by line, the likeliest cause first, the next test last.

    Parameters
    ----------
    ranking : Ranking
        Of one charging point.
    """
    yield f"{ranking.name}: {ranking.status}"
    yield f"  {ranking.says}."
    for cause in ranking.causes:
        yield ""
        yield from _cause(cause)
    yield ""
    both = f" ({' and '.join(ranking.likeliest_two)})" if ranking.likeliest_two else ""
    yield f"  Two at once{both}: {ranking.two_at_once_pct} %. None of these: {ranking.none_pct} %."
    yield from (f"  Not now: {reason}." for reason in ranking.barred)
    if ranking.next_test is not None:
        yield ""
        yield from _test(ranking.next_test)


def _cause(cause: RankedCause) -> Iterator[str]:
    yield f"  {cause.share_pct:3} %  {cause.title} ({cause.station}): {cause.standing}"
    for label, grounds in (("For", cause.speaks_for), ("Against", cause.speaks_against)):
        if grounds:
            yield f"         {label}: {'; '.join(map(_ground, grounds))}"
    yield f"         Settles it: {cause.settles_title}"
    if cause.standing is Standing.PROVEN:
        owed = (f"{v.title}{' (made)' if v.is_repeated else ''}" for v in cause.verify)
        yield f"         To repeat after the repair: {', '.join(owed)}"
    yield f"         {cause.severity.upper()}  {cause.explanation}. {cause.remedy}"


def _ground(ground: Ground) -> str:
    return f"{ground.words} ({ground.weight})"


def _test(test: NextTest) -> Iterator[str]:
    yield f"  Next test: {test.title}, {test.state}, about {test.minutes} min"
    yield f"         {test.how}"
    if test.first:
        yield f"         First: {', '.join(test.first)}"
    for prospect in test.prospects:
        yield f"         {prospect.words} ({prospect.chance_pct} %). {prospect.meaning}"
