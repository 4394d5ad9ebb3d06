"""A part's record in words: label and figure, each figure with its rule, for the cast's sheet, its text and print."""

from __future__ import annotations

from station.casting.part import doubtful
from station.core.judging_events import Defect
from station.core.mass import Mass
from station.core.part_words import density_words, packing_words, shrinkage_words
from station.core.spans import about
from station.part_records import HardnessOf, HardnessRecord, PartRecord
from station.texts import number, t, tn


def part_facts(part: PartRecord, step: Mass) -> tuple[tuple[str, str], ...]:
    """What is known of the part, as pairs of a label and its words; `step` is the scale's readability."""
    facts = [(t("Verdict"), verdict_words(part))]
    if part.mass is not None:
        how = t("trimmed") if part.trimmed else t("as it came out")
        facts.append((t("Mass"), f"{part.mass.text(step)}, {how}"))
        facts += _densities(part, part.mass, step)
    facts += [(t("Hardness"), hardness_words(one)) for one in part.hardness]
    if part.hardness and part.sheet_hardness:
        facts.append((t("Hardness on the sheet"), part.sheet_hardness))
    for one in part.lengths:
        label = t("Shrinkage, {place}", place=one.place) if one.place else t("Shrinkage")
        facts.append((label, shrinkage_words(one.lengths)))
    if part.note:
        facts.append((t("Remark"), part.note))
    return tuple(facts)


def _densities(part: PartRecord, mass: Mass, step: Mass) -> list[tuple[str, str]]:
    density = density_words(mass, part.cavity_cm3, step)
    packing = packing_words(mass, part.cavity_cm3, part.free_rise)
    found = []
    if density:
        if not part.trimmed:
            density = t("{density}; flash and sprue count in it", density=density)
        found.append((t("Molded density"), density))
    if packing:
        found.append((t("Packing"), packing))
    return found


def verdict_words(part: PartRecord) -> str:
    """The verdict and the defects, or why there is none."""
    if part.verdict is None:
        return t("nobody will judge it: {reason}", reason=part.waived) if part.waived else t("none yet")
    return "; ".join((t(part.verdict.value), *map(defect_words, part.defects)))


def defect_words(one: Defect) -> str:
    """What is wrong, how bad, and where."""
    words = f"{t(one.kind.value)} ({t(one.severity.value)})"
    return f"{words}, {one.place}" if one.place else words


def hardness_words(one: HardnessOf) -> str:
    """A series of readings with what it was made of, and when; a doubtful one says so."""
    value, scale = number(one.median), one.scale.value
    words = f"{value} {scale}"
    if one.count > 1:
        span = t("{low} to {high}", low=number(one.low), high=number(one.high))
        words = tn(
            "{value} (median of {n} reading: {span})",
            "{value} (median of {n} readings: {span})",
            one.count,
            value=words,
            span=span,
        )
    if one.since_demold_s is not None:
        since = about(one.since_demold_s)
        words = t("{reading}, {since} after demolding", reading=words, since=since)
    if doubtful(one.median):
        words = t("{hardness}; below 20 and above 90 a scale tells little: take another one", hardness=words)
    return words


def reading_words(one: HardnessRecord, since: str) -> str:
    """One reading; `since` tells in words how long the part had been out, empty where that is not known."""
    words = f"{number(one.value)} {one.scale.value}"
    if one.place:
        words = f"{words}, {one.place}"
    return t("{reading}, {since} after demolding", reading=words, since=since) if since else words
