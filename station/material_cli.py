"""`tarebell material …`: what the sheets say, and a review of one for contradictions. No logic."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from station.errors import StationError
from station.terminal import sentences
from station.texts import t

SHEETS = click.option(
    "--sheets", type=click.Path(path_type=Path), multiple=True, help="Files or folders; left out: the examples."
)


@click.group()
def material() -> None:
    """Material sheets: list them, show one, check one for contradictions."""


@material.command("check")
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="For programs.")
def check(files: tuple[Path, ...], as_json: bool) -> None:
    """Say what contradicts itself in FILES (or folders), what is not known, and what knowing it would give.

    Leaves with 1 when there is a contradiction or something that cannot be read.
    """
    with sentences():
        from station.core.review import review
        from station.sheets import files_of, materials_to_review

        told: list[dict[str, Any]] = []
        for file, required in [(one, place == one) for place in files for one in files_of(place)]:
            found, problems = materials_to_review(file, required=required)
            told.append({"file": str(file), "problems": list(problems), "materials": []})
            for sheet in found:
                said = review(sheet)
                told[-1]["materials"].append(
                    {
                        "key": sheet.key,
                        "contradictions": list(said.contradictions),
                        "unknown": list(said.unknown),
                        "advice": list(said.advice),
                    }
                )
        if as_json:
            click.echo(json.dumps(told, indent=1, ensure_ascii=False))
        else:
            _tell(told)
        bad = any(one["problems"] or any(sheet["contradictions"] for sheet in one["materials"]) for one in told)
        raise SystemExit(1 if bad else 0)


def _tell(told: list[dict[str, Any]]) -> None:
    for one in told:
        for problem in one["problems"]:
            click.echo(f"! {problem}")
        for sheet in one["materials"]:
            wrong, unknown = sheet["contradictions"], sheet["unknown"]
            if wrong:
                click.echo(t("{key}: this cannot all be right:", key=sheet["key"]))
            else:
                click.echo(t("{key}: nothing contradicts itself.", key=sheet["key"]))
            for said in wrong:
                click.echo(f"  ! {said}")
            if unknown:
                click.echo("  " + t("Not said, and what it would give:"))
            for said in unknown:
                click.echo(f"  - {said}")
            if sheet["advice"]:
                click.echo("  " + t("May be meant so:"))
            for said in sheet["advice"]:
                click.echo(f"  - {said}")


@material.command("list")
@SHEETS
def listed(sheets: tuple[Path, ...]) -> None:
    """List the materials that are read."""
    with sentences():
        from station.sheets import read_sheets

        for sheet in read_sheets(sheets).materials:
            example = t(" (invented example)") if sheet.example else ""
            click.echo(f"{sheet.key:24} {sheet.title}{example}")


@material.command("show")
@click.argument("key")
@SHEETS
def show(key: str, sheets: tuple[Path, ...]) -> None:
    """Show all that the sheet of KEY says."""
    with sentences():
        from station.core.sheet_words import sheet_words
        from station.sheets import read_sheets

        materials = read_sheets(sheets).materials
        found = next((sheet for sheet in materials if sheet.key == key), None)
        if found is None:
            raise StationError(
                t("There is no material {key}.", key=repr(key)),
                t("There are: {known}.", known=", ".join(m.key for m in materials)),
            )
        for label, value in sheet_words(found):
            click.echo(f"{label:22} {value}")
