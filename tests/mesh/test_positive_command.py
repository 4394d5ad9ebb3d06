"""`tarebell positive` as a person types it."""

import json

import pytest
from click.testing import CliRunner

from station.positive_cli import positive
from tests.mesh.bodies import box, obj, stl


@pytest.fixture
def ran(tmp_path):
    def run(*words, content=None, name="part.obj"):
        path = tmp_path / name
        path.write_bytes(obj(*box(120, 80, 30)) if content is None else content)
        return CliRunner().invoke(positive, [str(path), *map(str, words)])

    return run


def test_it_tells_size_volume_surface_and_asks_about_the_unit(ran):
    said = ran().output
    for words in ("120 × 80 × 30 mm", "288 cm³", "312 cm²", "12 facets, 1 body", "In inches it would be 3048 mm long"):
        assert words in said


def test_unit_shrinkage_scale_and_hand_go_together(ran):
    got = json.loads(ran("--unit", "cm", "--shrinkage", 1, "--scale", "2x1x1", "--mirror", "--json").output)
    assert got["volume_cm3"] == pytest.approx(288_000 * 2 / 0.99**3)
    assert got["extents_mm"] == pytest.approx([2400 / 0.99, 800 / 0.99, 300 / 0.99])
    assert (got["unit"], got["sure_of_unit"], got["mirrored"], got["area_cm2"]) == ("cm", True, True, None)


def test_the_picture_is_written(ran, tmp_path):
    picture = tmp_path / "views.png"
    assert ran("--picture", picture).exit_code == 0
    assert picture.read_bytes().startswith(b"\x89PNG")
    refused = ran("--picture", tmp_path / "no" / "views.png")
    assert (refused.exit_code, "cannot be written" in refused.output) == (1, True)


def test_an_open_surface_says_where_and_leaves_with_3(ran):
    points, facets = box(120, 80, 30)
    result = ran(content=stl(points, facets[1:]), name="part.stl")
    assert result.exit_code == 3
    assert "1. " in result.output
    assert "a hole, 3 open edges" in result.output


@pytest.mark.parametrize(
    ("words", "content", "said"),
    [
        ((), b"", "The file is empty"),
        ((), b"Dear mold maker", "a text, not a mesh"),
        (("--scale", "much"), None, "is no scale"),
        (("--shrinkage", "80"), None, "is no shrinkage"),
    ],
)
def test_what_is_wrong_is_a_sentence_and_leaves_with_1(ran, words, content, said):
    result = ran(*words, content=content)
    assert result.exit_code == 1
    assert said in result.output
    assert result.exception is None or isinstance(result.exception, SystemExit)


def test_a_file_that_is_not_there_is_a_sentence(tmp_path):
    result = CliRunner().invoke(positive, [str(tmp_path / "none.stl")])
    assert (result.exit_code, "cannot be read" in result.output) == (1, True)
