"""Worksheets of room and units say every word of an answer or a refusal; shapes are read in both languages."""

from urllib.parse import parse_qsl, urlsplit

import pytest

from station.casting.units import CM3, DENSITIES, GRAMS, MM, SECONDS, SPECIFIC_VOLUMES
from station.languages import begin_to_speak
from station.texts import t
from station.worksheets.catalogue import chapters, every, worksheet
from station.worksheets.filling import NotFilledIn, prefilled, worked
from station.worksheets.guides import GUIDES
from station.worksheets.room.shape_lines import shape_line
from station.worksheets.room.shape_sorts import accepted
from tests.words.answers import texts_in, unsaid_in
from tests.words.gathered import gathered
from tests.words.speaking import Marked, spoken
from tests.worksheets.test_drawings import CASES as DRAWN

BOX = {"length": "268 mm", "width": "96 mm", "height": "31 mm"}
HALVES = BOX | {"volume": "395 ml", "parting": "15 mm"}
CASES = [
    *((sheet.key, typed) for sheet, typed in DRAWN.values() if sheet.key != "moisture"),
    ("shapes", {"shapes": "box 1 1 1\ncylinder 2 2"}),
    ("shapes", {"shapes": "\n".join("box 120 80 30.5" for _ in range(9))}),
    ("footwear-sizes", {"size": "42", "to-size": "43", "volume": "200 ml"}),
    ("footwear-sizes", {"system": "Mondopoint", "size": "265"}),
    ("scale-part", {"mold-length": "100", "part-length": "99.5", "across": "0.2", "volume": "20 ml", "length": "9"}),
    ("box", BOX | {"wall": "4 mm", "spouts": "1", "undercut": "9 mm"}),
    ("box", HALVES | {"spouts": "40", "below": "200 ml", "cup": "300 g", "cup-empty": "20 g", "maximum": "310 g"}),
    ("box", HALVES | {"board-long": "1 m", "board-wide": "500 mm", "price": "30", "stock": "1 kg"}),
    ("box", BOX | {"hardness": "40", "undercut": "9 mm", "overfill": "0", "loss": "2", "stock": "9 kg"}),
    ("box", BOX | {"overfill": "0", "cup": "200 g"}),
    ("convert", {"quantity": "12 oz", "density": "1.1"}),
    ("convert", {"quantity": "2 US fl oz", "density": "1.1"}),
    *(("convert", {"quantity": one}) for one in ("6 lb", "1 ozt", "96 kg/m3", "73 °F", "2 in", "1 h 30 min")),
]
REFUSED = [
    ("shapes", {"shapes": "ball 3"}),
    ("shapes", {"shapes": ";"}),
    ("shapes", {"shapes": "box 3 4"}),
    ("shapes", {"shapes": "box 3 4 wide"}),
    ("shapes", {"shapes": "9999 box 3 4 5"}),
    ("shapes", {"shapes": "volume 0 ml"}),
    ("footwear-sizes", {"size": "900"}),
    ("scale-part", {"mold-length": "100"}),
    ("scale-part", {"length": "0"}),
    ("fill-with-water", {"full": "1", "dry": "2 g"}),
    ("immerse", {"in-air": "0 g", "in-water": "1 g"}),
    ("box", {"length": "long", "spouts": "few", "price": "1.234", "hardness": "soft"}),
    ("box", BOX | {"below": "200 ml"}),
    ("box", BOX | {"board-long": "1 m"}),
    ("box", HALVES | {"parting": "90 mm"}),
    ("box", BOX | {"length": "90 m"}),
    ("convert", {"quantity": "twelve"}),
    ("convert", {"quantity": "12 fl oz"}),
    ("convert", {"quantity": "12 oz", "density": "0"}),
    ("convert", {"quantity": "99999999 m"}),
    ("convert", {"colour": "red", "quantity": "1 g"}),
]

UNITS = {*GRAMS, *CM3, *MM, *SECONDS, *DENSITIES, *SPECIFIC_VOLUMES, "°F", "π²"}
"""What is the same in every language: names of units, and the signs of a rule."""


@pytest.fixture(autouse=True)
def _english_again():
    yield
    begin_to_speak("en")


@pytest.mark.parametrize(("key", "typed"), CASES)
def test_every_word_of_an_answer_is_said_through_the_catalogue(key, typed):
    with spoken(Marked()):
        told = list(texts_in(worked(worksheet(key), typed)))
    assert len(told) > 5
    assert unsaid_in(told, UNITS) == []


@pytest.mark.parametrize(("key", "typed"), REFUSED)
def test_every_word_of_a_refusal_is_said_through_the_catalogue(key, typed):
    with spoken(Marked()), pytest.raises(NotFilledIn) as refused:
        worked(worksheet(key), typed)
    told = [slip.said for slip in refused.value.slips]
    assert all("⟦" in said for said in told)
    assert unsaid_in(told, typed.values()) == []


def test_every_word_of_a_form_and_of_a_plan_is_marked_where_it_is_declared():
    known = {one.id for one in gathered()}
    declared = {text for part in chapters() for text in (part.title, *texts_of(part.sheets))}
    declared |= {text for guide in GUIDES for text in guide_texts(guide)}
    assert len(declared) > 300
    assert {text for text in declared - known if text} == set()


def texts_of(sheets):
    for sheet in sheets:
        yield from (sheet.title, sheet.purpose)
        for field in sheet.fields:
            yield from (field.label, field.hint, *field.choices)


def guide_texts(guide):
    yield from (guide.title, guide.words)
    for step in guide.steps:
        yield from (step.title, step.words, *(line.what for line in step.lines))


def test_defaults_are_shown_with_the_mark_of_the_language_and_read_back():
    fields = [field for sheet in every(chapters()) for field in sheet.fields if "." in field.default]
    assert len(fields) > 5
    begin_to_speak("de")
    for field in fields:
        assert "," in prefilled(field)


def test_shapes_are_read_in_the_words_of_the_station_and_in_english():
    lines = ("box 120 80 30.5", "minus 2 times cylinder 20 × 30 mm", "tapered box 9 8 7 6 5", "volume 2.5 ml")
    english = [shape_line(line).volume_cm3 for line in lines]
    begin_to_speak("de")
    german = ("Quader 120 80 30,5", "minus 2 mal zylinder 20 × 30 mm", "Pyramidenstumpf 9 8 7 6 5", "Volumen 2,5 ml")
    assert [shape_line(line).volume_cm3 for line in (*lines, *german)] == [*english, *english]
    assert shape_line("minus 2 × cylinder 20.5 × 30 mm").said == "minus 2 × Zylinder 20,5 × 30 mm"


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_hint_names_every_shape_as_it_is_read(language):
    begin_to_speak(language)
    (field,) = worksheet("shapes").fields
    assert accepted() in t(field.hint)


def test_where_one_goes_on_is_filled_in_so_that_it_is_read_back():
    begin_to_speak("de")
    kits = {"kits": "klein: A 1 kg, B 100 g, 38,00"}
    silicone = worked(worksheet("box"), HALVES)
    key, typed = onward(silicone)[0]
    assert "," in typed["need"]
    assert worked(worksheet(key), typed | kits).figures["surplus_g"]["A"] == pytest.approx(
        1000 * worked(worksheet(key), typed | kits).figures["counts"]["klein"] - silicone.figures["masses_g"]["A"],
        abs=0.1,
    )
    cavity = worked(worksheet("fill-with-water"), {"full": "1438,25 g"})
    (batch, volume), _ = onward(cavity)
    filled = worked(worksheet(batch), volume | {"ratio": "1:1", "density": "1 g/cm3"})
    assert filled.figures["total_g"] == pytest.approx(cavity.figures["volume_cm3"], rel=1e-5)


def onward(answer):
    links = [urlsplit(path) for path in answer.onward]
    return [(link.path.removeprefix("/work/"), dict(parse_qsl(link.query))) for link in links]
