"""What a look at differences found, as plain values for programs."""

from __future__ import annotations

from station.insight.difference import Difference, Look, Sort


def plain_difference(found: Difference) -> dict[str, object]:
    """All looks, the surest first."""
    return {
        "asked": found.question.words,
        "casts": found.casts,
        "bad": found.bad,
        "looks": [_plain(look) for look in found.looks],
        "unlooked": list(found.unlooked),
    }


def _plain(look: Look) -> dict[str, object]:
    return {
        "key": look.key,
        "title": look.title,
        "p": look.p,
        "exact": look.exact,
        "corrected": look.corrected,
        "claimed": look.claimed,
        "cut": look.cut.at if look.cut is not None and look.sort is Sort.CUT else None,
        "sides": [{"words": one.words, "bad": one.share.bad, "of": one.share.of} for one in look.sides],
    }
