"""`tarebell insight differences` and `compare`: what went together with bad casts; two casts side by side."""

from __future__ import annotations

import json
from pathlib import Path

import click

from station.record_cli import STATE, record_place
from station.terminal import CONFIG, sentences
from station.texts import t

LAST = 250


@click.command()
@CONFIG
@STATE
@click.option("--defect", default="", help="Casts with this defect, such as void; left out: casts that were not good.")
@click.option("--mold", default="", help="Key of a mold; left out: any.")
@click.option("--material", default="", help="Key of a material; left out: any.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
def differences(*, config: Path, state: Path | None, defect: str, mold: str, material: str, as_json: bool) -> None:
    """What went together with bad casts: each thing by itself, with a p that pays for all looks."""
    with sentences():
        from station.core.judging_events import DefectKind
        from station.errors import WrongField
        from station.insight.asked import Question
        from station.insight.difference import differences as compared
        from station.insight.plain_difference import plain_difference
        from station.insight.said import sentence, verdict
        from station.store.archive import Archive

        name = defect.strip().replace("-", "_").replace(" ", "_").upper()
        if name and name not in DefectKind.__members__:
            known = ", ".join(kind.name.lower() for kind in DefectKind)
            raise WrongField("defect", t("There is no such defect here."), t("Known: {known}.", known=known))
        with Archive(record_place(config, state)) as archive:
            facts = archive.facts(mold=mold, material=material, last=LAST)
        found = compared(facts, Question(DefectKind[name] if name else None))
        if as_json:
            click.echo(json.dumps(plain_difference(found), indent=1, ensure_ascii=False))
            return
        click.echo(
            t("{bad} of {casts} judged casts: {what}.", bad=found.bad, casts=found.casts, what=found.question.words)
        )
        for look in found.looks:
            mark = "●" if look.claimed else " "
            click.echo(f"{mark} {look.title}: {sentence(look, found)} {verdict(look)}")


@click.command()
@CONFIG
@STATE
@click.argument("first", type=click.IntRange(1))
@click.argument("second", type=click.IntRange(1))
def compare(config: Path, state: Path | None, first: int, second: int) -> None:
    """Two casts side by side by their numbers: everything that differs, the most unusual first."""
    with sentences():
        from station.errors import Refused
        from station.insight.compare import compared, rows
        from station.store.archive import Archive

        with Archive(record_place(config, state)) as archive:
            facts = archive.facts(last=LAST)
        chosen = {cast.number: cast for cast in facts if cast.number in (first, second)}
        for number in (first, second):
            if number not in chosen:
                raise Refused(
                    t("{typed} is no poured cast among the newest {last}.", typed=number, last=len(facts)),
                    t("Its number stands on the part and in the log."),
                )
        for title, one, other, unusual in rows(compared(chosen[first], chosen[second], facts)):
            click.echo(f"{title}: {one} | {other} ({unusual})")
