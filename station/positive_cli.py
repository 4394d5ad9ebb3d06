"""`tarebell positive FILE`: size, volume and surface of a positive from its mesh, with a picture."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from station.errors import StationError
from station.terminal import sentences
from station.texts import number, t, tn

if TYPE_CHECKING:
    from station.casting.positive import Positive


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--unit", type=click.Choice(["mm", "cm", "in", "m"]), default=None, help="What it is drawn in, when you know it."
)
@click.option("--shrinkage", type=float, default=0.0, help="Linear shrinkage to make up for, in per cent.")
@click.option(
    "--scale", default=None, metavar="FACTOR", help="Larger or smaller: 1.05, or 1.05x1x1.02 (right, back, up)."
)
@click.option("--mirror", is_flag=True, help="The other of a left and a right.")
@click.option("--picture", type=click.Path(path_type=Path), default=None, help="Where to write a picture (PNG).")
@click.option("--json", "as_json", is_flag=True, help="For programs.")
def positive(
    *,
    file: Path,
    unit: str | None,
    shrinkage: float,
    scale: str | None,
    mirror: bool,
    picture: Path | None,
    as_json: bool,
) -> None:
    """Measure the mesh of a positive: an STL, OBJ, PLY or 3MF FILE of 50 MB and a million facets at most.

    Exit code 1 when it is no mesh that can be measured, 3 when its surface has no volume.
    """
    with sentences():
        from station.casting.positive import Unit, growth, mirrored, read_as, scaled
        from station.casting.positive_scale import factors
        from station.mesh.survey import survey

        try:
            with file.open("rb") as opened:
                found = survey(opened, file.name)
        except OSError as why:
            if isinstance(why, StationError):
                raise
            raise StationError(
                t("{file} cannot be read: {why}.", file=file, why=why.strerror), t("Check its name.")
            ) from None
        part = found.positive if unit is None else read_as(found.positive, Unit(unit))
        if shrinkage:
            part = scaled(part, (growth(shrinkage),) * 3)
        if scale is not None:
            part = scaled(part, factors(scale))
        part = mirrored(part) if mirror else part
        if picture is not None:
            _keep(picture, found.picture)
        click.echo(json.dumps(as_figures(part), indent=1, ensure_ascii=False) if as_json else as_text(part))
    if part.volume_cm3 is None:
        raise SystemExit(3)


def as_figures(part: Positive) -> dict[str, Any]:
    """All that is known, with plain values."""
    return asdict(part) | {"unit": part.unit.value}


def as_text(part: Positive) -> str:
    """What the page shows, for a terminal."""
    from station.casting import positive_said as said

    mesh = t(
        "{kind}, {facets} facets, {bodies}",
        kind=part.kind,
        facets=number(part.facets, ","),
        bodies=tn("{n} body", "{n} bodies", part.bodies),
    )
    rows = [
        (t("Size"), t("{size} (to the right, to the back, upward)", size=said.size(part))),
        (t("Volume"), said.volume(part)),
        (t("Surface"), said.area(part)),
        (t("Mesh"), mesh),
        (t("Unit"), part.unit_why),
    ]
    if asked := said.question(part):
        rows.append(("", t("{asked} Say so with --unit mm, cm, in or m.", asked=asked)))
    widest = max(len(label) for label, _ in rows)
    lines = [f"{label:<{widest}}  {value}" for label, value in rows]
    lines += [f"! {warning}" for warning in said.warnings(part)]
    lines += [f"  {number}. {said.leak(leak)}" for number, leak in enumerate(part.leaks, 1)]
    lines += [f"- {note}" for note in said.notes(part)]
    return "\n".join(lines)


def _keep(where: Path, picture: bytes) -> None:
    try:
        where.write_bytes(picture)
    except OSError as why:
        raise StationError(
            t("The picture cannot be written to {where}: {why}.", where=where, why=why.strerror)
        ) from None
