"""Surveys through the measuring process: same numbers from every kind of file, and nothing bad gets out of it."""

import io
import os
import struct
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

from station.casting.positive import MOST_BYTES, Unit
from station.confined import asking
from station.errors import Refused, StationError
from station.mesh import survey as surveying
from station.mesh.limits import MOST_FACETS
from station.mesh.survey import SurveyFault, survey
from tests.mesh.asking import asked
from tests.mesh.bodies import (
    WRITERS,
    box,
    icosphere,
    joined,
    model,
    obj,
    object_of,
    packed,
    ply,
    signed_sum,
    stl,
)
from tests.mesh.test_harmful import entities

BALL = joined(icosphere(2, 25.0), box(20, 10, 8, at=(60, 5, 0)))


@pytest.mark.parametrize("name", WRITERS)
def test_every_kind_of_file_gives_the_same_numbers_and_a_picture(name):
    found = asked(WRITERS[name](*BALL), name)
    part = found.positive
    near = 1e-6 if name == "part.stl" else 1e-9  # float32
    assert part.volume_cm3 == pytest.approx(signed_sum(*BALL) / 1000, rel=near)
    assert part.extents_mm == pytest.approx((95.0, 50.0, 50.0), rel=1e-6)
    assert (part.closed, part.consistent, part.bodies, part.facets, part.notes) == (True, True, 2, 332, ())
    assert part.sure_of_unit == name.endswith("3mf")
    picture = Image.open(io.BytesIO(found.picture))
    assert picture.format == "PNG"
    assert 0.05 < sum(1 for a in picture.getchannel("A").tobytes() if a == 255) / (picture.width * picture.height) < 0.9


def test_a_file_with_a_wrong_ending_is_measured_as_what_it_is_and_says_so():
    part = asked(ply(*box(20, 20, 20)), "part.stl").positive
    assert part.volume_cm3 == pytest.approx(8.0)
    assert part.notes == ("The name ends in .stl, but the file is PLY; it was read as that.",)


def test_a_binary_file_that_begins_like_a_text_is_read_as_binary():
    assert asked(stl(*box(), header=b"solid part facet"), "part.stl").positive.kind == "binary STL"


def test_a_leak_comes_back_with_its_place():
    points, facets = box(40, 20, 10)
    part = asked(obj(points, facets[:-1]), "part.obj").positive
    assert (part.closed, part.volume_cm3, part.leaking, part.open_edges) == (False, None, 1, 3)
    assert part.leaks[0].edges == 3


@pytest.mark.parametrize(("unit", "side"), [("inch", 254.0), ("micron", 0.01), ("centimeter", 100.0), (None, 10.0)])
def test_a_packed_file_states_its_unit(unit, side):
    part = asked(packed(model([object_of(*box())], '<item objectid="1"/>', unit)), "part.3mf").positive
    assert part.extents_mm == pytest.approx((side,) * 3)
    assert part.volume_cm3 == pytest.approx(side**3 / 1000)
    assert part.sure_of_unit


def test_objects_of_a_packed_file_are_placed_mirrored_and_used_again():
    pair = '<object id="2" type="model"><components>'
    pair += '<component objectid="1" transform="1 0 0 0 1 0 0 0 1 20 0 0"/>'
    pair += '<component objectid="1" transform="-2 0 0 0 1 0 0 0 1 -20 0 0"/></components></object>'
    support = object_of(*box(at=(0, 90, 0)), key=3, kind="support")
    build = '<item objectid="2"/><item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 40 0"/><item objectid="3"/>'
    part = asked(packed(model([object_of(*box()), pair, support], build)), "part.3mf").positive
    assert (part.bodies, part.volume_cm3) == (3, pytest.approx(1 + 2 + 1))
    assert part.extents_mm == pytest.approx((55.0, 50.0, 10.0))


def test_too_large_a_file_is_refused_by_its_length_alone(tmp_path):
    large = tmp_path / "part.stl"
    with large.open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    with large.open("rb") as file, pytest.raises(Refused, match="at most 50 MB"):
        survey(file, large.name)


def test_too_many_facets_are_refused_before_they_are_read(tmp_path):
    large = tmp_path / "part.stl"
    with large.open("wb") as file:
        file.write(bytes(80) + struct.pack("<I", MOST_FACETS + 1))
        file.truncate(84 + 50 * (MOST_FACETS + 1))
    with large.open("rb") as file, pytest.raises(Refused, match="1,000,001 facets"):
        survey(file, large.name)


def test_a_measuring_that_takes_too_long_is_ended_with_its_whole_group():
    with pytest.raises(Refused, match="was given up"):
        survey(io.BytesIO(stl(*icosphere(5))), "part.stl", wall_s=0.01)
    assert children() == []


def test_the_limit_of_memory_holds(monkeypatch, tmp_path):
    # The child takes the limit from the same module; here it is told a smaller one in a copy of the program.
    program = "from station.mesh import child; child.CHILD_BYTES = 330 * 2**20; child.main()"
    points, facets = icosphere(7)
    path = tmp_path / "part.stl"
    path.write_bytes(stl(points, facets))
    with path.open("rb") as file:
        ran = subprocess.run(
            [sys.executable, "-c", program, "STL", "en"],
            stdin=file,
            capture_output=True,
            check=False,
            env={"OPENBLAS_NUM_THREADS": "1", "PYTHONPATH": str(Path(surveying.__file__).parents[2])},
        )
    assert (ran.returncode, ran.stdout) == (0, b'{"memory": true}\n')
    with pytest.raises(Refused, match="more than the 768 MB"):
        surveying._figures(ran.stdout)


def test_a_measuring_that_dies_or_cannot_start_is_a_fault_and_the_next_one_works(monkeypatch):
    with monkeypatch.context() as broken:
        broken.setattr(asking.sys, "executable", "/bin/false")
        with pytest.raises(SurveyFault, match="without an answer"):
            asked(stl(*box()), "part.stl")
        broken.setattr(asking.sys, "executable", "/nowhere/python")
        with pytest.raises(SurveyFault, match="could not be started"):
            asked(stl(*box()), "part.stl")
    assert asked(stl(*box(20, 20, 20)), "part.stl").positive.volume_cm3 == pytest.approx(8.0)


def test_nothing_is_left_behind(tmp_path, monkeypatch):
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr("tempfile.tempdir", None)
    before = len(os.listdir("/proc/self/fd"))
    for name, content in (("part.stl", stl(*box())), ("part.3mf", entities()), ("part.ply", ply(*box())[:-9])):
        try:
            asked(content, name)
        except StationError:
            continue
    assert list(tmp_path.iterdir()) == []
    assert len(os.listdir("/proc/self/fd")) == before
    assert children() == []


def children() -> list[str]:
    """Processes of this one that measure, or have measured and were not waited for; a browser is none."""
    pids = Path(f"/proc/self/task/{os.getpid()}/children").read_text().split()
    told = {pid: Path(f"/proc/{pid}/cmdline").read_bytes() for pid in pids}
    return [pid for pid, said in told.items() if not said or b"station.mesh.child" in said]


def test_the_parent_needs_nothing_that_measures():
    program = "import sys, station.mesh.survey; print(sorted({'numpy', 'trimesh', 'scipy', 'PIL'} & set(sys.modules)))"
    ran = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, check=True, cwd=Path(__file__).parents[2]
    )
    assert ran.stdout == b"[]\n"


@pytest.mark.parametrize(
    ("side", "unit", "mm"), [(120.0, Unit.MM, 120.0), (4.72, Unit.IN, 119.888), (0.12, Unit.M, 120.0)]
)
def test_the_unit_is_assumed_from_the_size(side, unit, mm):
    part = asked(obj(*box(side, side / 2, side / 4)), "part.obj").positive
    assert (part.unit, part.sure_of_unit) == (unit, False)
    assert part.longest_mm == pytest.approx(mm)
    assert part.volume_cm3 == pytest.approx(mm**3 / 8 / 1000)
