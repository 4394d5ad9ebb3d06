"""`tarebell reckon …`: every worksheet as a command, its fields as options. No logic."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from station.errors import StationError
from station.terminal import sentences
from station.texts import t

if TYPE_CHECKING:
    from station.worksheets.form import Worked, Worksheet


class Worksheets(click.Group):
    """Commands made from the catalogue, which is imported only when one is asked for."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 (as click calls it)
        """The keys of all worksheets, in the order of the job."""
        from station.worksheets.catalogue import chapters, every

        return [sheet.key for sheet in every(chapters())]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of one worksheet."""
        from station.worksheets.catalogue import worksheet

        return _command(worksheet(cmd_name)) if cmd_name in self.list_commands(ctx) else None


@click.group(cls=Worksheets)
def reckon() -> None:
    """Work something out: volumes, a mold box, a batch, a shot of foam, times, kits, a schedule.

    Values are typed with their unit ("12.7 mm", "1/2 in"); `tarebell reckon NAME --help` tells what is meant
    without one. The same worksheets are on the page under Plan.
    """


def _command(sheet: Worksheet) -> click.Command:
    from station.worksheets.filling import prefilled
    from station.worksheets.kinds import BARE, Kind

    options: list[click.Parameter] = []
    for field in sheet.fields:
        unit = field.bare or BARE.get(field.kind)
        said = [t(field.hint or field.label)]
        if field.choices:
            said.append(t("One of: {choices}.", choices=", ".join(field.choices)))
        if unit:
            said.append(t("Without a unit: {unit}.", unit=unit))
        if field.kind is Kind.LINES:
            said.append(t("Repeat the option, or separate by semicolons."))
        default = prefilled(field) or (field.choices[0] if field.choices else "")
        if default:
            said.append(t("[default: {default}]", default=default))
        elif not field.optional and field.kind is not Kind.YES:
            said.append(t("[needed]"))
        options.append(
            click.Option(
                [f"--{field.key}"],
                help=" ".join(said),
                multiple=field.kind is Kind.LINES,
                metavar=field.kind.value.upper(),
            )
        )
    options += [
        click.Option(["--json", "as_json"], is_flag=True, help=t("For programs.")),
        click.Option(
            ["--drawings"], type=click.Path(path_type=Path), help=t("Folder for the drawings, as SVG to scale.")
        ),
    ]
    if sheet.from_material is not None:
        options += [
            click.Option(["--from-material"], help=t("Key of a material: fill in what its sheet says.")),
            click.Option(["--sheets"], type=click.Path(path_type=Path), multiple=True, help=t("Where the sheets lie.")),
        ]

    def call(**given: Any) -> None:
        _run(sheet, given)

    return click.Command(sheet.key, params=options, callback=call, help=f"{t(sheet.title)}. {t(sheet.purpose)}")


def _run(sheet: Worksheet, given: dict[str, Any]) -> None:
    with sentences():
        from station.worksheets.filling import NotFilledIn, worked

        typed: dict[str, str] = {}
        if given.get("from_material"):
            typed.update(_of_material(sheet, given["from_material"], given["sheets"]))
        for field in sheet.fields:
            value = given[field.key.replace("-", "_")]
            if value:
                typed[field.key] = "\n".join(value) if isinstance(value, tuple) else value
        try:
            answer = worked(sheet, typed)
        except NotFilledIn as wrong:
            for slip in wrong.slips:
                click.echo(f"--{slip.key}: {slip.said}" if slip.key else slip.said, err=True)
            raise SystemExit(1) from None
        if given["drawings"] is not None:
            _draw(sheet, answer, given["drawings"])
        if given["as_json"]:
            click.echo(json.dumps(dict(answer.figures), indent=1, default=str, ensure_ascii=False))
        else:
            click.echo(as_text(sheet, answer))


def _of_material(sheet: Worksheet, key: str, places: tuple[Path, ...]) -> Mapping[str, str]:
    from station.sheets import read_sheets

    materials = read_sheets(places).materials
    material = next((m for m in materials if m.key == key), None)
    if material is None:
        raise StationError(
            t("There is no material {key}.", key=repr(key)),
            t("There are: {known}.", known=", ".join(m.key for m in materials)),
        )
    assert sheet.from_material is not None
    return sheet.from_material(material)


def _draw(sheet: Worksheet, answer: Worked, folder: Path) -> None:
    from station.drawing.svg import svg

    try:
        folder.mkdir(parents=True, exist_ok=True)
        for number, drawing in enumerate(answer.drawings, 1):
            (folder / f"{sheet.key}-{number}.svg").write_text(svg(drawing, standalone=True), encoding="utf-8")
    except OSError as why:
        raise StationError(
            t("The drawings cannot be written to {folder}: {why}.", folder=folder, why=why.strerror)
        ) from None


def as_text(sheet: Worksheet, answer: Worked) -> str:
    """An answer for the terminal."""
    lines = [t(sheet.title), ""]
    widest = max((len(row.label) for row in answer.rows), default=0)
    for row in answer.rows:
        lines.append(f"  {row.label:<{widest}}  {row.value}")
        if row.rule:
            lines.append(f"  {'':<{widest}}    {row.rule}")
    for table in answer.tables:
        widths = [max(len(cell) for cell in column) for column in zip(table.head, *table.rows, strict=True)]
        lines += ["", table.title]
        lines += [
            "  " + "  ".join(c.ljust(w) for c, w in zip(r, widths, strict=True)) for r in (table.head, *table.rows)
        ]
    for mark, said in (("!", answer.warnings), ("-", answer.notes), (t("Caution:"), answer.cautions)):
        lines += [""] * bool(said) + [f"{mark} {sentence}" for sentence in said]
    return "\n".join(line.rstrip() for line in lines)
