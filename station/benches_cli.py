"""`tarebell benches …`: the log that several benches share, seen from the command line. No logic."""

from __future__ import annotations

import json
from pathlib import Path

import click

from station.errors import StationError
from station.terminal import CONFIG, sentences
from station.texts import t


@click.group()
def benches() -> None:
    """Several benches, one log: what the others have at hand, their casts, and whether the log is whole."""


@benches.command()
@CONFIG
def now(config: Path) -> None:
    """What each bench has in hand and curing, as it told last."""
    with sentences():
        from station.phone.words import age_text, span_text
        from station.shared_check import look

        found = look(_url(config))
        if not found:
            click.echo(t("No bench has told anything yet."))
        for bench in found:
            told = t(
                "Bench {bench}, {title} (told {age})", bench=bench.bench, title=bench.title, age=age_text(bench.age_s)
            )
            click.echo(f"{told} {bench.unclear}".rstrip())
            for alarm in bench.at_hand.alarms:
                click.echo(f"  ! {alarm.words}")
            for cast in bench.at_hand.casts:
                clocks = ", ".join(f"{t(d.kind.value)} {span_text(max(0.0, d.left_s))}" for d in cast.dials)
                click.echo(f"  {cast.number:5}  {cast.mold}, {cast.material}: {cast.words} {clocks}".rstrip())


@benches.command()
@CONFIG
@click.option("--limit", default=20, show_default=True, type=click.IntRange(1, 1000))
@click.option("--json", "as_json", is_flag=True, help="For programs; with the whole batch records.")
def casts(config: Path, limit: int, as_json: bool) -> None:
    """List the casts of all benches, the last changed first."""
    with sentences():
        from station.shared_check import casts_there

        found = casts_there(_url(config), limit)
        if as_json:
            rows = [
                {
                    "bench": cast.bench,
                    "number": cast.number,
                    "begun": cast.begun.isoformat(),
                    "material": cast.material,
                    "mold": cast.mold,
                    "total_mg": cast.total.mg,
                    "stage": cast.stage,
                    "record": cast.text,
                }
                for cast in found
            ]
            click.echo(json.dumps(rows, indent=1))
            return
        if not found:
            click.echo(t("No cast is in the shared log yet."))
        for cast in found:
            bench = t("bench {bench}", bench=cast.bench)
            begun = f"{cast.begun:%Y-%m-%d %H:%M}{'' if cast.sure else '?'}"
            click.echo(
                f"{cast.number:5}  {bench}  {begun:17}  {cast.total.text():>9}  "
                f"{cast.mold}, {cast.material}: {t(cast.stage)}"
            )


@benches.command()
@CONFIG
def verify(config: Path) -> None:
    """Walk the chain of every bench's rows in the shared log. Exit code 1 when one is not whole."""
    with sentences():
        from station.shared_check import check_copies

        found = check_copies(_url(config))
        click.echo("\n".join(one.words() for one in found) or t("No bench has rows in the shared log yet."))
        raise SystemExit(1 if any(one.wrong for one in found) else 0)


def _url(config: Path) -> str:
    from station.settings import read_settings

    shared = read_settings(config).shared
    if shared is None:
        raise StationError(
            t("{config} names no shared log.", config=config), t("Write one under [shared], with url and bench.")
        )
    return shared.url
