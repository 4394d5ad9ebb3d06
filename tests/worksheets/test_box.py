"""The mold box worksheet: numbers, and what is said of them."""

from urllib.parse import parse_qs, urlsplit

import pytest

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


def test_a_material_sheet_fills_in_density_ratio_price_and_hardness():
    silicone = next(m for m in read_sheets(()).materials if m.key == "example-silicone")
    assert SHEET.from_material(silicone) == {
        "ratio": "10:1",
        "density": "1.08 g/cm3",
        "price": "30.00",
        "hardness": "25",
    }


def test_each_half_is_a_batch_of_its_own():
    found = answer(parting="10 mm", below="60 ml", cup="250 g", overfill="3", loss="5")
    figures = found.figures
    assert figures["lower_g"] + figures["upper_g"] == pytest.approx(figures["mixed_g"])
    assert figures["lower_g"] == pytest.approx(figures["lower_cm3"] * 1.03 / 0.95)
    assert (figures["lower_pours"], figures["upper_pours"], figures["pours"]) == (2, 2, 4)
    assert any("keys" in said for said in found.notes)


@pytest.mark.parametrize(
    ("typed", "how"),
    [
        ({}, "shared out by height: an assumption"),
        ({"below": "60 ml"}, "60 cm³ of the positive as given"),
        ({"volume": ""}, "nothing taken off"),
    ],
)
def test_what_is_taken_off_a_half_is_said(typed, how):
    (rule,) = (row.rule for row in answer(parting="10 mm", **typed).rows if row.label == "Lower half")
    assert how in rule


def test_boards_to_buy_are_counted_and_the_cutting_list_says_which():
    assert "boards_to_buy" not in answer().figures
    found = answer(board_long="480 mm", board_wide="150 mm")
    # Beside the floor (181.4 × 141.4 mm) both long sides (181.4 × 65.4 mm) lie one over the other: 133.8 mm with the
    # cut; then both short sides (105.4 × 65.4 mm): 181.4 + 3 + 181.4 + 3 + 105.4 = 474.2 mm of length.
    assert found.figures["boards_to_buy"] == 1
    assert found.tables[0].head[-1] == "from board"
    assert {cell for row in found.tables[0].rows for cell in row[-1].split(", ")} == {"1"}
    two = answer(board_long="470 mm", board_wide="150 mm")
    assert two.figures["boards_to_buy"] == 2


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"below": "60 ml"}, "not where that line is"),
        ({"parting": "10 mm", "below": "60 ml", "volume": ""}, "not its whole volume"),
        ({"board_long": "600 mm"}, "Only one side"),
        ({"board_long": "100 mm", "board_wide": "100 mm"}, "does not come out of a board"),
        ({"rim": "-5 mm"}, "end below the silicone"),
        ({"undercut": "-1 mm"}, "less than nothing"),
        ({"spouts": "101", "spout": "1 mm"}, "too many"),
        ({"spouts": "50", "spout": "50 mm"}, "do not stand"),
    ],
)
def test_what_is_half_told_or_cannot_be_is_refused(typed, says):
    with pytest.raises(NotFilledIn, match=says):
        answer(**typed)


def test_the_margin_is_told_in_grams():
    assert any(said.startswith("20.97 g of it are margin") for said in answer(overfill="3").notes)


def test_a_round_box_is_as_wide_as_the_diagonal_and_both_walls():
    # √(120² + 80²) + 2 × 12.7 = 169.6 mm; π/4 × 16.96² × 5.54 cm − 150 cm³ = 1102 cm³ of density 1.
    (said,) = (note for note in answer().notes if note.startswith("A round box"))
    assert "169.6 mm inside" in said
    assert "1102 g of mix: more than" in said


def test_what_to_buy_opens_with_both_components():
    # 145.4 × 105.4 × 55.4 mm − 150 cm³ = 699.014 g of density 1, 10 : 1.
    (path,) = answer().onward
    assert parse_qs(urlsplit(path).query)["need"] == ["A 635.47 g\nB 63.547 g"]
