"""`tarebell insight`: what the newest casts say about each other, in sentences or as JSON. Parse, call, exit code."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from station.learning_cli import compare, differences
from station.record_cli import STATE, record_place
from station.terminal import CONFIG, sentences
from station.texts import t

if TYPE_CHECKING:
    from collections.abc import Sequence

    from station.insight.facts import CastFacts
    from station.insight.study import Study

FIGURES = ("ratio", "density", "shot", "mix", "contact", "part")


@click.group(invoke_without_command=True)
@CONFIG
@STATE
@click.option("--figure", type=click.Choice(FIGURES), default="ratio", show_default=True, help="What is compared.")
@click.option("--mold", default="", help="Key of a mold; left out: any.")
@click.option("--material", default="", help="Key of a material; left out: any.")
@click.option("--last", default=60, show_default=True, type=click.IntRange(1, 10_000), help="So many newest casts.")
@click.option("--low", type=float, default=None, help="The lowest figure that you allow, in its unit.")
@click.option("--high", type=float, default=None, help="The highest.")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
@click.pass_context
def insight(
    context: click.Context,
    /,
    *,
    config: Path,
    state: Path | None,
    figure: str,
    mold: str,
    material: str,
    last: int,
    low: float | None,
    high: float | None,
    as_json: bool,
) -> None:
    """Compare the newest casts that were poured: one figure cast after cast, yields and defects."""
    if context.invoked_subcommand is not None:
        return
    with sentences():
        from station.insight.capability import Tolerance
        from station.insight.charted import Charted
        from station.insight.plain import plain
        from station.insight.study import study
        from station.store.archive import Archive

        limits = Tolerance(low, high)
        with Archive(record_place(config, state)) as archive:
            facts = archive.facts(mold=mold, material=material, last=last)
        found = study(facts, Charted[figure.upper()], limits)
        if as_json:
            click.echo(json.dumps(plain(facts, found), indent=1, ensure_ascii=False))
        elif facts:
            _tell(facts, found)
        else:
            click.echo(t("No poured cast fits all of this."))


insight.add_command(differences)
insight.add_command(compare)


def _tell(facts: Sequence[CastFacts], found: Study) -> None:
    from station.insight.pareto import pareto
    from station.insight.words import capability_words, chart_words, share_words
    from station.insight.yields import By, in_all, yields

    click.echo(f"{t(found.charted.value)}:")
    for words in (*chart_words(found), *capability_words(found.capability, found)):
        click.echo(f"  {words}")
    together = in_all(facts)
    if together is None:
        return
    click.echo(f"{t('Good')}: {share_words(together.good)}")
    for by in By:
        if len(groups := yields(facts, by)) > 1:
            for one in groups:
                click.echo(f"  {one.name}: {share_words(one.good)}")
    for defect in pareto(facts):
        click.echo(f"{t(defect.kind.value)}: {share_words(defect.casts)}")
