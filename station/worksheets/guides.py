"""Three worked plans of Wrenfield Works, an invented workshop: every number can be followed by hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from station.errors import Refused


@dataclass(frozen=True, slots=True)
class ByHand:
    """One line to follow: what it is, the arithmetic as written, its result with its unit, and the figure it is.

    `figure` names a figure of the step's worksheet; a dot reaches into it ("masses_g.A").
    """

    what: str
    sum: str
    result: str
    figure: str


@dataclass(frozen=True, slots=True)
class Step:
    """A step: why, the worksheet with its fields filled in, and the lines to follow by hand."""

    title: str
    words: str
    sheet: str
    typed: Mapping[str, str]
    lines: tuple[ByHand, ...]

    @property
    def address(self) -> str:
        """Where the worksheet opens filled in like this and worked out."""
        return f"/work/{self.sheet}?{urlencode({'go': '1', **self.typed})}"


@dataclass(frozen=True, slots=True)
class Guide:
    """A worked plan."""

    key: str
    title: str
    words: str
    steps: tuple[Step, ...]


FOOTBED = Guide(
    "footbed",
    "A silicone mold around a footbed",
    "A footbed has been modelled in clay and sealed. It is 268 mm long, 96 mm wide and 31 mm high. Before the "
    "silicone is "
    "opened: how large is the box, how much goes into it, is there enough, and when can it be opened again?",
    (
        Step(
            "Its volume, by water",
            "The sealed positive weighs 520.0 g. In a cup of water on the scale, tared, it is held under with a "
            "thin rod "
            "until it touches nothing: the scale shows 394.6 g, of which the rod alone is 0.8 g. What the water "
            "pushes up "
            "is what the positive displaces.",
            "immerse",
            {"in-air": "520 g", "in-water": "394.6 g", "support": "0.8 g", "water": "21 °C"},
            (ByHand("Volume", "(394.6 - 0.8) × (1 - 0.0012 ÷ 8) ÷ (0.99800 - 0.0012)", "395.0 cm³", "volume_cm3"),),
        ),
        Step(
            "Box and silicone",
            "Half an inch, 12.7 mm, all around, below and above. Silicone is what is in the box less the "
            "positive; three per "
            "cent more are mixed, for what has cured cannot be topped up.",
            "box",
            {
                "length": "268 mm",
                "width": "96 mm",
                "height": "31 mm",
                "volume": "395 cm3",
                "density": "1.08 g/cm3",
                "ratio": "10:1",
                "overfill": "3 %",
                "cup": "1 kg",
                "price": "30.00",
            },
            (
                ByHand("Box", "29.34 × 12.14 × 5.64", "2008.9 cm³", "box_cm3"),
                ByHand("Silicone", "2008.9 - 395", "1613.9 cm³", "silicone_cm3"),
                ByHand("Mass to mix", "1613.9 × 1.03 × 1.08", "1795.3 g", "mixed_g"),
                ByHand("of it A", "1795.3 × 10 ÷ 11", "1632.1 g", "masses_g.A"),
                ByHand("and B", "1795.3 × 1 ÷ 11", "163.2 g", "masses_g.B"),
                ByHand("in each of two pours", "1795.3 ÷ 2", "897.65 g", "each_pour_g"),
            ),
        ),
        Step(
            "Kits to buy",
            "A small pair has 1 kg of A and 100 g of B for 38.00, a large one five times that for 165.00. Two "
            "small pairs "
            "are the cheapest that cover it.",
            "kits",
            {
                "need": "A 1632.1 g\nB 163.2 g",
                "kits": "small pair: A 1 kg, B 100 g, 38.00\nlarge pair: A 5 kg, B 500 g, 165.00",
            },
            (
                ByHand("To pay, in hundredths", "2 × 3800", "7600", "price_hundredths"),
                ByHand("A left over", "2 × 1000 - 1632.1", "367.9 g", "surplus_g.A"),
            ),
        ),
        Step(
            "How long, at 19 °C",
            "The sheet says 30 minutes and 4 hours at 23 °C and no energy, so the range of its chemistry "
            "counts, 40 to "
            "90 kJ/mol. A wait is counted at its longest.",
            "times-today",
            {
                "today": "19 °C",
                "pot-life": "30 min",
                "reserve": "4 min",
                "demold": "4 h",
                "chemistry": "addition-cure silicone",
            },
            (
                ByHand("Rate at 90 kJ/mol", "exp(-90000 ÷ 8.3145 × (1 ÷ 292.15 - 1 ÷ 296.15))", "0.606", "rate_slow"),
                ByHand("Demold, in seconds", "4 × 3600 ÷ 0.60626", "23752 s", "demold_longest_s"),
            ),
        ),
    ),
)

PAD = Guide(
    "foam-pad",
    "A foam pad for a kayak seat",
    "The mold of a seat pad is there. How much foam fills it and presses well, and what becomes of fifty "
    "seconds of pot life "
    "on a cold morning?",
    (
        Step(
            "The cavity, by water",
            "The dry mold weighs 1840.0 g, brim full of water at 21 °C 3129.0 g. Dry it well afterwards: water "
            "makes foam "
            "of its own.",
            "fill-with-water",
            {"dry": "1840 g", "full": "3129 g", "water": "21 °C"},
            (ByHand("Volume", "(3129 - 1840) × (1 - 0.0012 ÷ 8) ÷ (0.99800 - 0.0012)", "1292.9 cm³", "volume_cm3"),),
        ),
        Step(
            "The shot",
            "The sheet gives a free-rise density of 96 kg/m³. A packing factor of 1.25 makes a firm skin. Three "
            "per cent "
            "stay in the cup. Density is multiplied by volume; an expansion would be divided by.",
            "foam",
            {
                "cavity": "1293 cm3",
                "free-rise": "96 kg/m3",
                "packing": "1.25",
                "loss": "3 %",
                "ratio": "100:60",
                "liquid": "1.08 g/cm3",
                "packing-low": "1.05",
                "packing-high": "1.4",
            },
            (
                ByHand("Molded density", "0.096 × 1.25", "0.120 g/cm³", "molded_g_cm3"),
                ByHand("In the mold", "1293 × 0.120", "155.2 g", "part_g"),
                ByHand("To mix", "155.16 ÷ (1 - 0.03)", "160.0 g", "mixed_g"),
                ByHand("of it A", "159.96 × 100 ÷ 160", "100.0 g", "masses_g.A"),
                ByHand("and B", "159.96 × 60 ÷ 160", "60.0 g", "masses_g.B"),
                ByHand("Risen freely", "155.16 ÷ 0.096", "1616 cm³", "free_rise_cm3"),
            ),
        ),
        Step(
            "A cold morning, 19 °C",
            "By its activation energy of 50 kJ/mol the pad cures slower. The pot life would be longer too, and "
            "the station "
            "still counts to the sheet's fifty seconds: only a sheet's own table lengthens a limit.",
            "times-today",
            {
                "today": "19 °C",
                "pot-life": "50 s",
                "reserve": "12 s",
                "demold": "20 min",
                "activation": "50",
                "chemistry": "urethane foam",
            },
            (
                ByHand("Rate", "exp(-50000 ÷ 8.3145 × (1 ÷ 292.15 - 1 ÷ 296.15))", "0.757", "rate_slow"),
                ByHand("Demold, in seconds", "1200 ÷ 0.7573", "1585 s", "demold_longest_s"),
            ),
        ),
        Step(
            "What a pad costs",
            "Eight of ten pads came out good so far. The mold cost 64.00 and lasts for some sixty.",
            "cost",
            {
                "masses": "A 100 g\nB 60 g",
                "kits": "small pair: A 1 kg, B 600 g, 34.00\nlarge pair: A 5 kg, B 3 kg, 142.00",
                "mold": "64.00",
                "lasts": "60",
                "consumables": "0.35",
                "good": "8",
                "casts": "10",
            },
            (
                ByHand("Material, in hundredths", "160 × 14200 ÷ 8000", "284.0", "material_hundredths"),
                ByHand("One cast", "284 + 6400 ÷ 60 + 35", "425.7", "cast_hundredths"),
                ByHand("A good one", "425.67 ÷ ((8 + 1) ÷ (10 + 2))", "567.6", "good_part_hundredths"),
            ),
        ),
    ),
)

GRIP = Guide(
    "paddle-grip",
    "A urethane grip for a paddle",
    "The rubber is mixed one to one by volume, and the scale weighs. How much of each, how large must the "
    "pattern be so that "
    "the grip is not too small, and how long does a cup of it live?",
    (
        Step(
            "The pattern",
            "The sheet gives 0.3 % of linear shrinkage. A grip of 120 mm needs a pattern that is longer by 1 ÷ "
            "(1 − 0.003), "
            "not by 1 + 0.003.",
            "scale-part",
            {"shrinkage": "0.3 %", "length": "120 mm", "volume": "197.5 cm3"},
            (
                ByHand("Pattern to part", "1 ÷ (1 - 0.003)", "1.00301", "length_scale"),
                ByHand("Length of the pattern", "120 × 1.0030090", "120.36 mm", "length_mm"),
            ),
        ),
        Step(
            "The batch",
            "By volume 1 : 1, with 1.06 and 0.98 g/cm³; the cavity has 197.5 cm³, and three per cent stay in "
            "the cup.",
            "batch",
            {
                "ratio": "1:1", "basis": "by volume", "densities": "1.06 : 0.98", "volume": "197.5 cm3",
                "density": "1.02 g/cm3", "loss": "3 %",
            },
            (
                ByHand("Mix", "197.5 × 1.02 ÷ (1 - 0.03)", "207.68 g", "total_g"),
                ByHand("of it A", "207.68 × 1.06 ÷ (1.06 + 0.98)", "107.91 g", "masses_g.A"),
                ByHand("and B", "207.68 × 0.98 ÷ (1.06 + 0.98)", "99.77 g", "masses_g.B"),
            ),
        ),
        Step(
            "Do both ratios agree?",
            "The sheet also prints 100 : 92.5 by weight. By volume it is 92.45: the difference is in the rounding.",
            "two-ratios",
            {"weight": "100:92.5", "volume": "1:1", "densities": "1.06 : 0.98"},
            (ByHand("Apart, in %", "(0.925 ÷ (0.98 ÷ 1.06) - 1) × 100", "0.05", "apart_percent"),),
        ),
        Step(
            "How long it lives in one cup",
            "The sheet's fifteen minutes are for 100 g. Its table says 11 minutes for 500 g; 207.68 g lie "
            "between, on a "
            "straight line of logarithms.",
            "pot-life-mass",
            {"mass": "207.68 g", "pot-life": "15 min", "stated-mass": "100 g", "table": "100 g 15 min\n500 g 11 min"},
            (
                ByHand("Pot life", "900 × (660 ÷ 900) ** (log(207.68 ÷ 100) ÷ log(5))", "781.8 s", "pot_life_s"),
            ),
        ),
    ),
)  # fmt: skip

GUIDES: tuple[Guide, ...] = (FOOTBED, PAD, GRIP)


def guide(key: str) -> Guide:
    """The guide of this key. Raises Refused with the known ones."""
    found = next((one for one in GUIDES if one.key == key), None)
    if found is None:
        raise Refused(f"There is no guide {key!r}.", f"There are: {', '.join(one.key for one in GUIDES)}.")
    return found
