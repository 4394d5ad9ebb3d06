"""Worksheets of buying, cost, containers, schedules and projects."""

import pytest

from station.drawing.svg import svg
from station.sheets import read_sheets
from station.worksheets.buying import cost, project, purchase, schedule, stock
from station.worksheets.buying.lines import offer, offer_lines, offers, part
from station.worksheets.buying.working import hours, mold
from station.worksheets.filling import NotFilledIn, worked

SHEETS = {s.key: s for module in (cost, project, purchase, schedule, stock) for s in module.WORKSHEETS}
KITS = "small pair: A 1 kg, B 600 g, 34.00\nlarge pair: A 5 kg, B 3 kg, 142.00"
FOAM = next(m for m in read_sheets(()).materials if m.key == "example-foam")


def answer(key, **typed):
    day = {"first": "2026-03-02"} if key in ("schedule", "project") else {}
    return worked(SHEETS[key], day | {name.replace("_", "-"): text for name, text in typed.items()})


def test_lines_of_kits_are_read_as_they_are_written():
    assert part("A 640 g") == ("A", 640.0)
    small = offer("small pair: A 1 kg, B 600 g, 34.00, at most 2")
    assert (small.title, dict(small.grams), small.price, small.most) == ("small pair", {"A": 1000, "B": 600}, 3400, 2)
    assert [kit.price for kit in offers(offer_lines(FOAM).split("\n"))] == [kit.price for kit in FOAM.kits]


@pytest.mark.parametrize("wrong", ["kit", "kit: 34.00", "kit: A lots, 34.00", "kit: A 1 kg, cheap", "kit: A, 3.00"])
def test_a_line_that_is_no_kit_is_refused_with_one_that_is(wrong):
    with pytest.raises(NotFilledIn):
        answer("kits", need="A 1 kg", kits=wrong)


def test_the_cheapest_kits_cover_what_the_stock_does_not():
    found = answer("kits", need="A 6.2 kg\nB 3.7 kg", stock="A 200 g", kits=KITS, use="150 g", reserve="300 g")
    assert found.figures["counts"] == {"small pair": 2, "large pair": 1}  # 6 kg of A, and 3.7 kg of B: two small ones
    assert found.figures["price_hundredths"] == 2 * 3400 + 14200
    assert found.figures["surplus_g"]["B"] == pytest.approx(500)
    assert found.figures["reorder_at_g"] == pytest.approx(150 * 5 + 300)
    assert found.rows[0].value == "210.00"


def test_shipping_is_paid_once_an_order_and_not_when_nothing_is_bought():
    typed = {"need": "A 6.2 kg\nB 3.7 kg", "kits": KITS, "shipping": "9.50"}
    found = answer("kits", stock="A 200 g", **typed)
    assert (found.figures["price_hundredths"], found.rows[0].value) == (2 * 3400 + 14200 + 950, "219.50")
    assert "9.50 of shipping" in found.rows[0].rule
    assert answer("kits", stock="A 7 kg\nB 4 kg", **typed).figures["price_hundredths"] == 0


def test_what_no_kit_holds_is_said():
    with pytest.raises(NotFilledIn, match="No kit on offer holds C"):
        answer("kits", need="C 10 g", kits=KITS)


def test_a_cast_and_a_good_part():
    found = answer(
        "cost", masses="A 100 g\nB 60 g", kits=KITS, mold="64.00", lasts="60", consumables="0.35", good="8", casts="10"
    )
    per_g = 14200 / 8000
    whole = 160 * per_g + 6400 / 60 + 35
    assert found.figures["cast_hundredths"] == pytest.approx(whole)
    assert found.figures["good_part_hundredths"] == pytest.approx(whole / 0.75)


def test_a_pigment_that_no_kit_holds_is_not_priced_as_foam():
    with pytest.raises(NotFilledIn, match="price of pigment is not known"):
        answer("cost", masses="A 100 g\npigment 2 g", kits=KITS)
    cans = answer("cost", masses="A 100 g\nB 100 g", kits="a: A 1 kg, 10.00\nb: B 1 kg, 30.00")
    assert cans.figures["material_hundredths"] == pytest.approx(400)
    assert cans.rows[2].rule == "10 % of a at 10.00 + 10 % of b at 30.00"


def test_a_container_tells_what_is_left_and_until_when_it_is_good():
    typed = {"gross": "812.4", "empty": "240", "opened": "2026-02-16", "keeps": "90", "best_before": "2026-12-31"}
    found = answer("container", today="2026-03-02", need="600", isocyanate="yes", **typed)
    assert found.figures == {"left_g": pytest.approx(572.4), "known_to_g": 0.1, "good_until": "2026-05-17"}
    assert any("572.4 g are left and 600.0 g are needed" in said for said in found.warnings)
    assert found.rows[0].value == "572.4 g ± 0.1 g"
    with pytest.raises(NotFilledIn, match="cannot weigh"):
        answer("container", gross="200", empty="240")


def test_a_container_that_holds_just_enough_asks_for_another_at_hand():
    close = answer("container", gross="340", empty="240", need="99.95", readability="0.1 g")
    assert close.warnings == ("Enough by less than the scale tells (0.1 g): have another container at hand.",)
    assert answer("container", gross="340", empty="240", need="99", readability="0.1 g").warnings == ()
    with pytest.raises(NotFilledIn, match="does not read in steps"):
        answer("container", gross="340", empty="240", readability="0 g")


def test_a_schedule_by_hand():
    found = answer("schedule", molds="pad: 4 casts, 20 min, 40 min", first="2026-03-02", hours="9:00-12:00")
    assert [cast["begun_min"] for cast in found.figures["casts"]] == [540, 600, 660, 1440 + 540]
    assert found.tables[0].rows[3][2] == "Tu 03.03. 09:00"
    assert found.rows[0].value == "Tu 03.03. 10:00"
    assert found.rows[-1].rule == "this one ends then: it cannot be bettered"
    assert answer("schedule", molds="pad: 2, 20 min, 40 min").rows[0].rule == "2 casts in one day"


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"molds": "pad"}, "not a mold"),
        ({"molds": "pad: 4 casts, soon, 40 min"}, "Handling first"),
        ({"molds": "pad: 1, 20 min, 1 h", "hours": "all day"}, "no working hours"),
        ({"molds": "pad: 1, 20 min, 1 h", "days": "Caturday"}, "no days of the week"),
        ({"molds": "pad: 1, 20 min, 1 h", "hours": "17:00-9:00"}, "working hours are none"),
        ({"molds": "pad: 1, 20 h, 1 h"}, "do not fit"),
        ({"molds": "pad: 1, 20 min, 1 h", "days": "weekend"}, "no days of the week"),
        ({"molds": "pad: 1, 20 min, 1 h", "days": "Mo-We-Fr"}, "no days of the week"),
        ({"molds": "pad: 1, 20 min, 1 h", "hours": "9:75-12:00"}, "no working hours"),
        ({"molds": "pad: 1, 20 min, 1 h", "delivery": "-5"}, "cannot be"),
        ({"molds": "pad: 9, 20 min, 9 h", "first": "9999-12-31"}, "too far off"),
    ],
)
def test_a_schedule_that_cannot_be_is_refused(typed, says):
    with pytest.raises(NotFilledIn, match=says):
        answer("schedule", **typed)


@pytest.mark.parametrize(
    ("days", "numbers"),
    [
        ("Mo-Fr", {0, 1, 2, 3, 4}),
        ("monday, Wed fr", {0, 2, 4}),
        ("Fr – Mo", {4, 5, 6, 0}),
        ("Sa Su", {5, 6}),
        ("Tu-Tu", {1}),
    ],
)
def test_days_of_the_week_are_read_one_by_one_or_from_to(days, numbers):
    assert hours("9:00-17:00", days).weekdays == numbers


def test_a_time_is_rounded_up_so_that_no_part_comes_out_early():
    pad = mold("pad: 2 casts, 90 s, 15 min 10 s")
    assert (pad.handling_min, pad.demold_min) == (2, 16)
    assert mold("pad: 2, 25 min, 4 h").demold_min == 240


def test_a_project_without_kits_has_no_price_and_says_so():
    found = answer("project", parts="4", cast_mass="100 g", ratio="100:60")
    assert found.figures["price_hundredths"] is None
    assert "To pay" not in {row.label for row in found.rows}
    assert found.warnings == ("No kits to cast with are given: that material is not in the price.",)


def test_a_project_adds_up_by_hand():
    found = answer(
        "project",
        molds="2", mold_mass="1.8 kg", mold_kits="pair: A 1 kg, B 100 g, 38.00",
        parts="20", trials="3", cast_mass="160 g", ratio="100:60", kits=KITS, margin="10", isocyanate="yes",
    )  # fmt: skip
    assert found.figures["cast_count"] == len(found.figures["casts"]) == 26
    assert found.figures["mold_g"] == pytest.approx(2 * 1800 * 1.1)
    assert found.figures["cast_g"] == pytest.approx(26 * 160 * 1.1)
    # 3600 g of A and 360 g of B make four pairs (3.6 → 4); 2860 g of A and 1716 g of B: three small ones at 34.00.
    assert found.figures["price_hundredths"] == 4 * 3800 + 3 * 3400
    assert any("respirator" in said for said in found.cautions)
    assert "training" in " ".join(found.cautions)


def test_every_drawing_is_well_formed_and_speaks():
    made = [
        *answer("kits", need="A 1 kg", kits=KITS).drawings,
        *answer("cost", masses="A 10 g", kits=KITS).drawings,
        *answer("container", gross="812", empty="240", need="10").drawings,
        *answer("schedule", molds="left: 3, 20 min, 4 h\nright: 2, 20 min, 4 h").drawings,
    ]
    assert len(made) == 4
    for drawing in made:
        assert svg(drawing).startswith("<svg")
        assert len(drawing.spoken) > 20
