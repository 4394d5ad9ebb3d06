"""Surveying a positive: the file goes to a process of its own, and figures and a picture or a sentence come back.

Nothing that measures is imported here. Whatever that process does (hang, eat memory, die), this one goes on.
"""

from __future__ import annotations

import json
import os
from typing import Any, BinaryIO, assert_never

from station.casting.positive import Leak, Positive, Survey, Unit, from_file_units
from station.confined.asking import GivenUp, Task, Why, answer, on_disk
from station.confined.limits import MB
from station.errors import Fault, Refused
from station.mesh.kinds import HEAD, Judged, MeshKind, judged
from station.mesh.limits import CHILD_BYTES, CPU_S, PICTURE_BYTES, WALL_S
from station.texts import N_, number, t

SIMPLER = N_("Save it with fewer facets, as binary STL, and try again.")


class SurveyFault(Fault, OSError):
    """The measuring process cannot be started or ended without an answer."""

    hint = N_("Try again; if it happens again, save the mesh anew in the program that made it.")


def survey(file: BinaryIO, name: str, *, wall_s: float = WALL_S) -> Survey:
    """Measures the mesh in `file`, whose `name` says what it was meant to be. Takes seconds.

    Raises Refused when it is no mesh that can be measured, SurveyFault when the measuring itself fails.
    """
    with on_disk(file) as disk:
        number = disk.fileno()
        kind = judged(os.pread(number, HEAD, 0), os.fstat(number).st_size, name)
        line, picture = _answer(number, kind.kind, wall_s)
    return Survey(_positive(_figures(line), kind), picture)


def peak_kib(file: BinaryIO, kind: MeshKind) -> int:
    """Most memory that measuring took, for the benchmark."""
    return int(_figures(_answer(file.fileno(), kind, WALL_S)[0])["peak_kib"])


def _answer(file: int, kind: MeshKind, wall_s: float) -> tuple[bytes, bytes]:
    try:
        return answer(Task("station.mesh.child", kind.name, PICTURE_BYTES, wall_s), file)
    except GivenUp as none:
        match none.why:
            case Why.NOT_STARTED:
                raise SurveyFault(t("The measuring could not be started ({why}).", why=none.told)) from none
            case Why.LATE:
                text = N_("Measuring the mesh took longer than {seconds} s and was given up.")
                raise Refused(t(text, seconds=number(wall_s)), t(SIMPLER)) from none
            case Why.WORKED_TOO_LONG:
                text = N_("Measuring the mesh took more than {seconds} s of work and was given up.")
                raise Refused(t(text, seconds=CPU_S), t(SIMPLER)) from none
            case Why.SILENT:
                raise SurveyFault(t("The measuring ended without an answer ({why}).", why=none.told)) from none
            case _:
                assert_never(none.why)


def _figures(line: bytes) -> dict[str, Any]:
    try:
        figures = json.loads(line)
    except ValueError:
        raise SurveyFault(t("The measuring gave an answer that cannot be read.")) from None
    if "refused" in figures:
        raise Refused(figures["refused"], figures["hint"])
    if "memory" in figures:
        text = N_("Measuring the mesh would take more than the {most} MB of memory it may have.")
        raise Refused(t(text, most=CHILD_BYTES // MB), t(SIMPLER))
    return dict(figures)


def _positive(figures: dict[str, Any], kind: Judged) -> Positive:
    x, y, z = figures["extents"]
    return from_file_units(
        Positive(
            extents_mm=(x, y, z),
            volume_cm3=figures["volume"],
            area_cm2=figures["area"],
            facets=figures["facets"],
            bodies=figures["bodies"],
            closed=figures["closed"],
            consistent=figures["consistent"],
            unit=Unit.MM,
            unit_why="",
            sure_of_unit=False,
            hollows=figures["hollows"],
            inverted=figures["inverted"],
            turned=figures["turned"],
            leaks=tuple(Leak((x, y, z), rim, edges) for x, y, z, rim, edges in figures["leaks"]),
            leaking=figures["leaking"],
            open_edges=figures["open_edges"],
            kind=kind.kind.value,
            notes=(kind.note,) if kind.note else (),
        ),
        figures["unit_mm"],
    )
