"""The worksheets of mixing: a batch from a mass, a volume or the stock, one ratio told twice, the loss of a cup."""

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.core.material import TOTAL, Additive
from station.worksheets.filling import NotFilledIn, worked
from station.worksheets.mixing.ratio import WORKSHEETS
from tests.play import FOAM, RUBBER, SILICONE
from tests.worksheets.mixing import assert_drawn, by_key, refusal, row

BATCH, TWO_RATIOS, CUP_LOSS = (by_key(WORKSHEETS, key) for key in ("batch", "two-ratios", "cup-loss"))


def test_a_batch_by_mass_is_told_in_the_persons_own_numbers():
    answer = worked(BATCH, {"ratio": "100:60", "mass": "160 g"})
    assert (row(answer, "A").value, row(answer, "B").value) == ("100 g", "60 g")
    assert row(answer, "B").rule == "exactly 60 g = 160 g × 60/160 by weight"
    assert answer.figures["masses_g"] == pytest.approx({"A": 100, "B": 60})
    assert answer.warnings == ()
    assert_drawn(answer)


def test_a_batch_by_volume_of_a_ratio_by_volume_needs_the_densities_and_is_an_estimate():
    typed = {"ratio": "1:1", "basis": "by volume", "volume": "200 ml", "densities": "1.06 : 0.98", "loss": "3 %"}
    answer = worked(BATCH, typed)
    # Ideal mixing: 100 cm³ of each weigh 106 and 98 g, 204 g in 200 cm³; 204 ÷ 0.97 = 210.31 g.
    assert answer.figures["total_g"] == pytest.approx(204 / 0.97)
    assert answer.figures["poured_g"] == pytest.approx(204)
    assert "an estimate" in row(answer, "Mix in all").rule
    assert answer.tables[0].rows[0] == ("A", "109.3 g", "103.1 cm³", "50 %")
    assert "needs the density" in refusal(BATCH, {"ratio": "1:1", "basis": "by volume", "mass": "20"})
    assert "density of A, B is not known" in refusal(BATCH, {"ratio": "1:1", "volume": "20"})


def test_the_density_of_the_mix_is_taken_before_an_estimate():
    answer = worked(BATCH, {"ratio": "1:1", "volume": "100 ml", "density": "1.1", "densities": "1:1"})
    assert answer.figures["total_g"] == pytest.approx(110)
    assert "1.1 g/cm³ of the mix" in row(answer, "Mix in all").rule


def test_what_is_left_limits_the_batch_and_is_never_exceeded():
    answer = worked(BATCH, {"ratio": "10:1", "left": "A 640 g\nB: 50.04 g", "loss": "3"})
    assert row(answer, "Mix in all").rule.startswith("B limits it: the 50.04 g left of it make 550.44 g of mix")
    assert answer.figures["shown_g"]["B"] == pytest.approx(50.0)
    assert answer.figures["poured_g"] == pytest.approx(550.44 * 0.97)


def test_additives_are_typed_as_lines_of_a_component_of_all_or_of_the_whole():
    lines = "pigment 3 % of B\nthinner 5 parts per hundred; filler 10 % of whole mix"
    answer = worked(BATCH, {"ratio": "100:60", "mass": "200", "additives": lines})
    masses = answer.figures["masses_g"]
    components = masses["A"] + masses["B"]
    assert masses["pigment"] == pytest.approx(0.03 * masses["B"])
    assert masses["thinner"] == pytest.approx(0.05 * components)
    assert masses["filler"] == pytest.approx(20)
    assert sum(masses.values()) == pytest.approx(200)


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ("pigment", "is not an additive"),
        ("pigment 3 % of C", "does not say of what"),
        ("pigment 3 %", "does not say of what"),
        ("pigment 0 % of A", "adds nothing"),
        ("pigment 3 % of A; pigment 2 % of B", "twice"),
        ("A 3 % of B", "twice"),
        ("filler 100 % of whole mix", "below 100 %"),
        (" " * 1500 + "x 1" + " " * 1500, "is not an additive"),
    ],
)
def test_an_additive_that_cannot_be_read_is_refused_with_how_to_write_it(lines, said):
    assert said in refusal(BATCH, {"ratio": "100:60", "mass": "200", "additives": lines})


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"ratio": "100"}, "not a mix ratio"),
        ({"ratio": "1,000:500"}, "may mean 1000 or 1.000"),
        ({"ratio": "0:1"}, "part of nothing"),
        ({"densities": "1.06"}, "1 densities are given for 2 components"),
        ({"densities": "1.06:0"}, "above zero"),
        ({"mass": ""}, "not at all"),
        ({"volume": "5 ml"}, "more than once"),
        ({"mass": "", "left": "C 5 g"}, "names nothing of this mix"),
        ({"mass": "", "left": "A 5 g; A 6 g"}, "listed twice"),
        ({"mass": "", "left": "A 0 g"}, "Nothing is left"),
        ({"mass": "0 g"}, "above zero"),
        ({"loss": "95 %"}, "leaves nothing to pour"),
        ({"step": "0 g"}, "does not read in steps"),
        ({"within": "0 %"}, "allowed error"),
        ({"mass": "3 g", "step": "1 g"}, "too coarse"),
    ],
)
def test_what_does_not_go_together_is_refused_with_a_sentence(typed, said):
    assert said in refusal(BATCH, {"ratio": "100:60", "mass": "160"} | typed)


def test_a_batch_too_small_for_the_scale_is_warned_about_with_one_that_is_large_enough():
    said, _ = worked(BATCH, {"ratio": "10:1", "mass": "11 g"}).warnings
    # Form of USP <41>: k · 0.41 d ÷ allowed relative error = 2 × 0.041 g ÷ 0.02 = 4.1 g of B, 45.1 g in all.
    assert "1 g of B is little" in said
    assert "below 4.1 g. Mix 45.1 g or more" in said


def test_a_batch_too_small_to_be_poured_is_warned_about_with_one_that_is_not():
    (said,) = worked(BATCH, {"ratio": "10:1", "mass": "55 g"}).warnings
    assert "5.0 g of B" in said
    least = re.search(r"Mix (\d+) g or more, or give the last of it with a pipette", said)
    assert least is not None
    assert worked(BATCH, {"ratio": "10:1", "mass": f"{least[1]} g"}).warnings == ()


def test_a_material_fills_in_its_ratio_its_densities_and_its_additives():
    assert BATCH.from_material is not None
    typed = dict(BATCH.from_material(FOAM)) | {"mass": "200"}
    assert typed["additives"] == "pigment 3 % of B"
    assert worked(BATCH, typed).figures["masses_g"]["A"] == pytest.approx(200 * 100 / 161.8)
    rubber = dict(BATCH.from_material(RUBBER)) | {"mass": "204"}
    assert worked(BATCH, rubber).figures["masses_g"] == pytest.approx({"A": 106, "B": 98})
    other = replace(
        FOAM,
        components=tuple(replace(c, name=name) for c, name in zip(FOAM.components, ("resin", "hardener"), strict=True)),
        additives=(Additive("dye 2", 3, of="hardener", into="resin"), Additive("oil", 1, of=TOTAL, into="resin")),
    )
    named = dict(BATCH.from_material(other)) | {"mass": "200"}
    assert worked(BATCH, named).figures["masses_g"]["dye 2"] == pytest.approx(200 * 1.8 / 163.4)


def test_two_statements_that_agree_are_said_to_with_both_numbers():
    answer = worked(TWO_RATIOS, {"weight": "100:92", "volume": "1:1", "densities": "1.06:0.98"})
    assert answer.figures["agrees"] is True
    assert answer.warnings == ()
    assert "92 g (91.5 to 92.5 g as printed)" in answer.notes[0]
    assert row(answer, "By volume, as weight").value == "100 : 92.45"
    assert_drawn(answer)


def test_two_statements_that_disagree_are_a_warning_that_asks():
    answer = worked(TWO_RATIOS, {"weight": "100 : 60", "volume": "1 : 1", "densities": "1060 kg/m3 : 980 kg/m3"})
    assert answer.figures["agrees"] is False
    assert answer.figures["apart_percent"] == pytest.approx(abs((0.98 / 1.06) / 0.6 - 1) * 100)
    assert "60 g" in answer.warnings[0]
    assert "Ask the supplier" in answer.warnings[0]


def test_the_digits_that_were_typed_decide():
    typed = {"volume": "1:1", "densities": "1.060:0.980"}
    assert worked(TWO_RATIOS, {"weight": "100:92"} | typed).figures["agrees"] is True
    assert worked(TWO_RATIOS, {"weight": "100:92.0"} | typed).figures["agrees"] is False


def test_ratios_of_different_length_are_refused():
    typed = {"weight": "100:92:1", "volume": "1:1", "densities": "1:1:1"}
    assert "different numbers" in refusal(TWO_RATIOS, typed)


def test_a_material_that_tells_both_fills_in_both_and_one_that_tells_one_leaves_the_other():
    assert TWO_RATIOS.from_material is not None
    assert "volume" not in TWO_RATIOS.from_material(SILICONE)
    assert "weight" not in TWO_RATIOS.from_material(RUBBER)
    both = tuple(replace(c, other_parts=part) for c, part in zip(RUBBER.components, (100, 92), strict=True))
    answer = worked(TWO_RATIOS, TWO_RATIOS.from_material(replace(RUBBER, components=both)))
    assert answer.figures["agrees"] is True


def test_emptied_cups_teach_what_to_plan_with():
    answer = worked(CUP_LOSS, {"cup": "600 g", "cups": "1000 g, 820 g, 16,4 g\n200, 150, 9"})
    assert answer.rows[0].value == "4.0 %"
    assert answer.rows[0].rule == "between cups of 200 g and 1000 g"
    assert answer.tables[0].rows == (("1000 g", "2.00 %"), ("200 g", "6.00 %"))
    assert worked(CUP_LOSS, {"cup": "600 g"}).rows[0].rule.endswith("(common practice, no source)")
    assert "not an emptied cup" in refusal(CUP_LOSS, {"cup": "600 g", "cups": "1000 g, 820 g"})
    assert "cannot be" in refusal(CUP_LOSS, {"cup": "600 g", "cups": "1000, 20, 30"})


@given(st.lists(st.integers(1, 200), min_size=2, max_size=4), st.floats(50, 20_000), st.floats(0, 20))
def test_the_masses_of_every_batch_add_up_and_every_answer_can_be_drawn(parts, mass, loss):
    typed = {"ratio": ":".join(map(str, parts)), "mass": f"{mass:.2f}", "loss": f"{loss:.2f}"}
    try:
        answer = worked(BATCH, typed)
    except NotFilledIn as refused:
        assert "too coarse" in str(refused)  # noqa: PT017
        return
    figures = answer.figures
    assert sum(figures["masses_g"].values()) == pytest.approx(figures["total_g"])
    assert figures["shown_total_g"] >= figures["total_g"] - 1e-6
    assert figures["poured_g"] == pytest.approx(mass, abs=0.006)
    assert_drawn(answer)


@given(st.text(max_size=30), st.text(max_size=30), st.text(max_size=40))
def test_nonsense_is_answered_with_sentences(ratio, densities, additives):
    with pytest.raises(NotFilledIn) as refused:
        worked(BATCH, {"ratio": f"x{ratio}", "densities": densities, "additives": additives, "mass": "100"})
    assert all(slip.said.strip() for slip in refused.value.slips)
