"""Worksheets of mixing, buying and time say every word of an answer or a refusal, and read words in both languages."""

import pytest

from station.drawing.marks import Label
from station.languages import begin_to_speak
from station.sheets import read_sheets
from station.worksheets.catalogue import worksheet
from station.worksheets.filling import NotFilledIn, worked
from tests.words.answers import texts_in, unsaid_in
from tests.words.speaking import Marked, spoken
from tests.worksheets.test_drawings import room

NAMES = ("small pair", "large pair", "pigment", "thinner", "filler")
PAIR = "small pair: A 1 kg, B 600 g, 34.00"
KITS = f"{PAIR}\nlarge pair: A 5 kg, B 3 kg, 142.00, at most 2"
PAD = {"cavity": "500 ml", "free-rise": "80", "packing": "1.2", "ratio": "2:1"}
CAST = {"nco": "16.8", "oh": "56.1"}
SILICONE = {"chemistry": "addition-cure silicone"}
TODAY = {"today": "31 °C", "pot-life": "15 min", "chemistry": "urethane rubber"}
LOG = {"log": "2 h 18 °C\n3 h 23 °C", "demold": "16 h", "chemistry": "urethane rubber"}
PROJECT = {"parts": "10", "cast-mass": "160 g", "ratio": "100:60", "first": "2026-03-02", "mold-mass": "900 g"}
CASES = [
    ("batch", {"ratio": "100:60", "mass": "160 g"}),
    ("batch", {"ratio": "100:60", "mass": "9 g", "loss": "3", "densities": "1.06:0.98"}),
    ("batch", {"ratio": "1:1", "volume": "100 ml", "densities": "1.06:0.98", "basis": "by volume"}),
    ("batch", {"ratio": "1:1", "volume": "100 ml", "density": "1.1"}),
    ("batch", {"ratio": "10:1", "left": "A 640 g\nB: 50.04 g", "loss": "3"}),
    ("batch", {"ratio": "10:1", "left": "A 640 g"}),
    ("batch", {"ratio": "2:1", "mass": "200", "additives": "pigment 3 % of B; thinner 5 % of all"}),
    ("two-ratios", {"weight": "100:92", "volume": "1:1", "densities": "1.06:0.98"}),
    ("two-ratios", {"weight": "100:60", "volume": "1:1", "densities": "1.06:0.98"}),
    ("cup-loss", {"cup": "600 g", "cups": "1000 g, 820 g, 16.4 g\n200, 150, 9"}),
    ("cup-loss", {"cup": "600 g"}),
    ("foam", PAD | {"cup": "60 ml", "minimum-fill": "49 g", "loss": "0"}),
    ("foam", PAD | {"free-rise": "", "molded": "96"}),
    ("foam", PAD | {"expansion": "13", "liquid": "1.05", "packing": "0.9"}),
    ("foam", PAD | {"free-rise": "", "expansion": "13", "liquid": "1.05", "packing": "1.6"}),
    ("foam-parts", {"cavity": "800 ml", "parts": "100 g, 95 g\n100, 93; 90 g, 84 g, short"}),
    ("foam-parts", {"cavity": "800 ml", "parts": "90 g, 84 g, short"}),
    ("equivalents", CAST | {"can-water": "0.1 g", "can-room": "500 ml"}),
    ("equivalents", CAST | {"water": "0.05", "isocyanate": "50 g"}),
    ("cost", {"masses": "A 100 g\nB 60 g", "kits": KITS, "mold": "64", "consumables": "0.35"}),
    ("kits", {"need": "A 6.2 kg\nB 3.7 kg", "kits": KITS, "use": "150 g", "shipping": "9.50"}),
    ("kits", {"need": "A 1 kg\nB 600 g", "kits": PAIR}),
    ("schedule", {"molds": "left: 6 casts, 25 min, 4 h\nright: 2, 20 min, 2 h", "first": "2026-03-02"}),
    ("schedule", {"molds": "left: 1 casts, 25 min, 2.5 h", "first": "2026-03-02"}),
    ("container", {"gross": "900 g", "empty": "100 g", "need": "800 g"}),
    (
        "container",
        {"gross": "900 g", "empty": "100 g", "opened": "2026-01-02", "keeps": "90", "today": "2026-03-30"}
        | {"isocyanate": "yes"},
    ),
    ("container", {"gross": "120 g", "empty": "100 g", "best-before": "2026-01-02", "today": "2026-03-01"}),
    ("project", PROJECT | {"kits": KITS, "isocyanate": "yes"}),
    ("project", PROJECT | {"mold-kits": "small pair: A 1 kg, B 100 g, 38.00"}),
    ("times-today", TODAY | {"demold": "16 h", "full-cure": "7 d"}),
    ("times-today", TODAY | {"reserve": "14 min", "activation": "45", "table": "30 °C 12 min"}),
    ("times-today", TODAY | {"table": "30 °C 22 min\n35 °C 5 min", "demold": "16 h", "demold-table": "15 °C 30 h"}),
    ("pot-life-mass", {"mass": "700 g", "pot-life": "15 min", "table": "500 g 11 min", "stated-mass": "100 g"}),
    ("pot-life-mass", {"mass": "700 g", "pot-life": "15 min"}),
    ("pot-life-mass", {"mass": "300 g", "pot-life": "15 min", "table": "500 g 18 min", "stated-mass": "100 g"}),
    ("age-by-log", LOG),
    ("age-by-log", LOG | {"coldest": "20", "datum": "0 °C"}),
    ("age-by-log", LOG | {"log": "40 h 23 °C"}),
    ("moisture", {"air": "22 °C", "humidity": "75 %", "mold": "15 °C", "material": "20 °C"}),
    ("moisture", {"air": "22", "humidity": "20", "mold": "22", "chemistry": "condensation-cure silicone"}),
]
REFUSED = [
    ("batch", {"ratio": "lots", "mass": "1"}),
    ("batch", {"ratio": "1,500:1", "mass": "1"}),
    ("batch", {"ratio": "1:0", "mass": "1"}),
    ("batch", {"ratio": "1:1"}),
    ("batch", {"ratio": "1:1", "mass": "1", "volume": "1"}),
    ("batch", {"ratio": "1:1", "mass": "1", "basis": "by volume"}),
    ("batch", {"ratio": "1:1", "mass": "1", "densities": "1"}),
    ("batch", {"ratio": "1:1", "mass": "1", "densities": "0:1"}),
    ("batch", {"ratio": "1:1", "mass": "100", "additives": "pigment"}),
    ("batch", {"ratio": "1:1", "mass": "100", "additives": "pigment 3 % of it"}),
    ("batch", {"ratio": "1:1", "mass": "100", "additives": "pigment 0 % of A"}),
    ("batch", {"ratio": "1:1", "mass": "100", "additives": "pigment 1 % of A; pigment 1 % of B"}),
    ("batch", {"ratio": "1:1", "left": "filler 3 g"}),
    ("batch", {"ratio": "1:1", "left": "A 3 g; A 4 g"}),
    ("two-ratios", {"weight": "1:1", "volume": "1:1:1", "densities": "1:1"}),
    ("cup-loss", {"cup": "600 g", "cups": "1000 g"}),
    ("foam", {"cavity": "500", "ratio": "1:1"}),
    ("foam", {"cavity": "500", "ratio": "1:1", "expansion": "13"}),
    ("foam", PAD | {"expansion": "8", "liquid": "1.05"}),
    ("foam-parts", {"cavity": "800", "parts": "90 g"}),
    ("equivalents", CAST | {"water": "30"}),
    ("equivalents", CAST | {"error": "60"}),
    ("equivalents", CAST | {"can-water": "1 g"}),
    ("cost", {"masses": "A", "kits": PAIR}),
    ("cost", {"masses": "A 1 kg", "kits": "small pair"}),
    ("kits", {"need": "A 1 kg", "kits": f"{PAIR}\n{PAIR}"}),
    ("schedule", {"molds": "left", "first": "2026-03-02"}),
    ("schedule", {"molds": "left: 1, 5 min, 1 h", "first": "2026-03-02", "hours": "all"}),
    ("schedule", {"molds": "left: 1, 5 min, 1 h", "first": "2026-03-02", "days": "Moonday"}),
    ("schedule", {"molds": "left: 1, 5 min, 1 h", "first": "2026-03-02", "delivery": "9999"}),
    ("schedule", {"molds": "left: 1, 5 min, 1 h", "first": "9999-03-02"}),
    ("times-today", TODAY | {"today": "300 °C"}),
    ("times-today", TODAY | {"activation": "900"}),
    ("times-today", TODAY | {"coldest": "30", "warmest": "20"}),
    ("times-today", TODAY | {"pot-life": "0"}),
    ("times-today", TODAY | {"reserve": "1 h"}),
    ("times-today", TODAY | {"warmest": "25"}),
    ("times-today", TODAY | {"demold-table": "15 °C 30 h"}),
    ("times-today", TODAY | {"table": "warm"}),
    ("times-today", TODAY | {"table": "300 °C 3 min"}),
    ("pot-life-mass", {"mass": "700 g", "pot-life": "15 min", "table": "much"}),
    ("age-by-log", LOG | {"log": "2 h"}),
    ("age-by-log", LOG | {"log": "2 h 60 °C", "warmest": "40"}),
    ("age-by-log", LOG | {"datum": "30 °C"}),
]


@pytest.fixture(autouse=True)
def _english_again():
    yield
    begin_to_speak("en")


@pytest.mark.parametrize(("key", "typed"), CASES)
def test_every_word_of_an_answer_is_said_through_the_catalogue(key, typed):
    with spoken(Marked()):
        told = list(texts_in(worked(worksheet(key), typed)))
    assert len(told) >= 5
    assert unsaid_in(told, ("left", "right", *NAMES)) == []


@pytest.mark.parametrize(("key", "typed"), REFUSED)
def test_every_word_of_a_refusal_is_said_through_the_catalogue(key, typed):
    with spoken(Marked()), pytest.raises(NotFilledIn) as refused:
        worked(worksheet(key), typed)
    told = [slip.said for slip in refused.value.slips]
    assert all("⟦" in said for said in told)
    # What was typed is told as it was.
    assert unsaid_in(told, [text for typed_in in typed.values() for text in (typed_in, *typed_in.split("; "))]) == []


@pytest.mark.parametrize(
    ("key", "typed", "figure", "found"),
    [
        ("batch", {"ratio": "10 zu 1", "mass": "11 g"}, "total_g", 11),
        ("batch", {"ratio": "1:1,250", "mass": "225 g"}, "shown_g", {"A": 100, "B": 125}),
        (
            "batch",
            {"ratio": "1:1", "mass": "115 g", "additives": "Pigment 10 % von B; Farbe 10 % von allen Komponenten"},
            "shown_g",
            {"A": 50, "B": 50, "Pigment": 5, "Farbe": 10},
        ),
        (
            "batch",
            {"ratio": "1:1", "mass": "100 g", "additives": "Füllstoff 20 % der ganzen Mischung"},
            "shown_g",
            {"A": 40, "B": 40, "Füllstoff": 20},
        ),
        ("foam-parts", {"cavity": "800", "parts": "90,5 g, 84,2 g, nicht voll\n100, 95, voll"}, "minimum_fill_g", 95),
        ("kits", {"need": "A 2 kg", "kits": "kleines Paar: A 1,5 kg, 34,00, höchstens 2"}, "price_hundredths", 6800),
    ],
)
def test_what_is_typed_may_be_in_the_words_of_the_station(key, typed, figure, found):
    begin_to_speak("de")
    assert worked(worksheet(key), typed).figures[figure] == pytest.approx(found)


def test_a_mold_and_its_days_may_be_in_the_words_of_the_station():
    typed = {"molds": "links: 2 Güsse, 25 min, 4,5 h", "first": "2026-03-02"}
    english = worked(worksheet("schedule"), {**typed, "molds": "links: 2 casts, 25 min, 4.5 h", "days": "We-Th"})
    begin_to_speak("de")
    german = worked(worksheet("schedule"), {**typed, "days": "Mi-Do"})
    assert german.figures == english.figures
    assert german.rows[0].value.startswith("Do ")


@pytest.mark.parametrize(
    "key", ["batch", "two-ratios", "foam", "equivalents", "cost", "kits", "project", "times-today", "pot-life-mass"]
)
def test_what_a_sheet_fills_in_is_read_back_in_the_language_of_the_station(key):
    sheet = worksheet(key)
    assert sheet.from_material is not None
    rest = {"masses": "A 10 g", "need": "A 10 g", "cavity": "500 ml", "today": "23 °C", "nco": "16.8", "oh": "56.1"}
    rest |= {"first": "2026-03-02", "parts": "2", "cast-mass": "150 g", "mass": "150 g", "volume": "1:1"}
    rest |= {"weight": "100:92"}
    keys = {field.key for field in sheet.fields} - ({"volume"} if key == "batch" else set())
    figures: dict[str, list[object]] = {}
    for language in ("en", "de"):
        begin_to_speak(language)
        figures[language] = []
        for material in read_sheets(()).materials:
            typed = {name: text for name, text in rest.items() if name in keys} | sheet.from_material(material)
            try:
                # Casts of a project name molds in the station's words.
                found = worked(sheet, typed).figures
                figures[language].append({name: value for name, value in found.items() if name != "casts"})
            except NotFilledIn as refused:
                figures[language].append([slip.key for slip in refused.slips])
    assert figures["de"] == figures["en"]
    assert any(isinstance(found, dict) for found in figures["de"])


@pytest.mark.parametrize(("key", "typed"), CASES)
def test_no_text_of_a_drawing_leaves_it_in_german(key, typed):
    begin_to_speak("de")
    for drawing in worked(worksheet(key), typed).drawings:
        for label in (mark for mark in drawing.marks if isinstance(mark, Label)):
            left, top, right, bottom = room(label)
            assert left >= 0, label
            assert right <= drawing.width, label
            assert top >= 0, label
            assert bottom <= drawing.height, label


def test_an_unsaid_word_of_an_answer_is_found():
    assert unsaid_in(["⟦Mix in all⟧", "9.6 g", "96 kg/m³", "9.6 g in the mold", "A"], ("Pigment",)) == [
        "9.6 g in the mold"
    ]
