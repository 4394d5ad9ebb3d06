"""The mold box worksheet: numbers, warnings, and drawings to scale."""

from xml.etree import ElementTree as ET

import pytest

from station.drawing.svg import svg
from station.sheets import read_sheets
from station.worksheets.filling import NotFilledIn, worked
from station.worksheets.room.box import WORKSHEETS

SHEET = WORKSHEETS[0]
# Published row: extents 120 × 80 × 30 mm with 1/2 in (12.7 mm) on every side is a box of 849.1 ml; less a model of
# 150 ml it takes 699.1 ml ("1/2 in over the top and all sides": hobby practice, recomputed).
ROW = {"length": "120", "width": "80", "height": "30", "volume": "150 ml", "overfill": "0", "density": "1"}


def answer(**typed):
    return worked(SHEET, ROW | {name.replace("_", "-"): text for name, text in typed.items()})


def test_the_published_box():
    figures = answer().figures
    assert figures["box_mm"] == pytest.approx([145.4, 105.4, 55.4])
    assert figures["box_cm3"] == pytest.approx(849.1, abs=0.1)
    assert figures["silicone_cm3"] == pytest.approx(699.1, abs=0.1)
    assert figures["masses_g"] == pytest.approx({"A": 699.1 * 10 / 11, "B": 699.1 / 11}, abs=0.1)


def test_inches_and_millimetres_are_the_same_box():
    inch = answer(length=f"{120 / 25.4:.9f} in", wall="1/2 in", floor="0.5 in", above='1/2"')
    assert inch.figures["box_cm3"] == pytest.approx(849.1, abs=0.1)


def test_margin_loss_and_pours():
    figures = answer(overfill="3", loss="5", cup="300 g").figures
    assert figures["mixed_g"] == pytest.approx(699.1 * 1.03 / 0.95, abs=0.2)
    assert figures["pours"] == 3
    assert figures["each_pour_g"] == pytest.approx(figures["mixed_g"] / 3)


def test_the_scale_counts_with_its_cup():
    assert answer(maximum="400 g", cup_empty="50 g").figures["pours"] == 2
    assert answer(maximum="400 g").figures["pours"] == 2
    assert answer(maximum="400 g", cup_empty="100 g").figures["pours"] == 3


def test_an_unknown_volume_is_an_upper_bound_and_says_so():
    found = answer(volume="")
    assert found.figures["silicone_cm3"] == pytest.approx(849.1, abs=0.1)
    assert any("not known" in said for said in found.warnings)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"wall": "3 mm"}, "thin"),
        ({"stock": "200 g"}, "Do not begin"),
        ({"undercut": "20 mm", "hardness": "40"}, "undercut"),
    ],
)
def test_what_is_wrong_with_a_box_is_said(typed, says):
    assert any(says in said for said in answer(**typed).warnings)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"volume": "1 l"}, "larger than"),
        ({"wall": "-3 mm"}, "is none"),
        ({"parting": "40 mm"}, "does not cut"),
        ({"boards": "0 mm"}, "thickness above zero"),
        ({"ratio": "ten to one"}, "not a mix ratio"),
        ({"length": "long"}, "Length of the positive"),
    ],
)
def test_a_box_that_cannot_be_is_refused(typed, says):
    with pytest.raises(NotFilledIn, match=says):
        answer(**typed)


def test_two_pieces_share_the_silicone():
    figures = answer(parting="10 mm", below="60 ml").figures
    assert figures["lower_cm3"] == pytest.approx(145.4 * 105.4 * 22.7 / 1000 - 60, abs=0.1)
    assert figures["lower_cm3"] + figures["upper_cm3"] == pytest.approx(figures["silicone_cm3"])


@pytest.mark.parametrize("size", ["40 mm", "120 mm", "600 mm", "1.5 m"])
def test_a_print_is_to_scale_and_fits_the_paper(size):
    found = answer(length=size, volume="")
    for drawing in found.drawings:
        file = ET.fromstring(svg(drawing, standalone=True))
        wide, high = (float(file.get(side).removesuffix("mm")) for side in ("width", "height"))
        assert wide <= 190.1
        assert high <= 277.1
        hatched = next(box for box in file if box.tag.endswith("rect") and "hatch" in box.get("class"))
        scale = int(
            next(t.text for t in file if t.tag.endswith("text") and "1:" in (t.text or "")).split("1:")[1].split()[0]
        )
        on_paper = float(hatched.get("width")) * drawing.mm_per_unit
        real = found.figures["box_mm"][0] - 2 * 12.7
        assert on_paper * scale == pytest.approx(real, rel=2e-3)


def test_a_material_sheet_fills_in_density_ratio_price_and_hardness():
    silicone = next(m for m in read_sheets(()).materials if m.key == "example-silicone")
    assert SHEET.from_material(silicone) == {
        "ratio": "10:1",
        "density": "1.08 g/cm3",
        "price": "30.00",
        "hardness": "25",
    }
