"""A worked plan: a foam pad for a kayak seat, from the cavity to what a good pad costs."""

from __future__ import annotations

from station.texts import N_
from station.worksheets.guided.form import ByHand, Guide, Step

PAD = Guide(
    "foam-pad",
    N_("A foam pad for a kayak seat"),
    N_(
        "The mold of a seat pad is there. How much foam fills it and presses well, and what becomes of fifty "
        "seconds of pot life on a cold morning?"
    ),
    (
        Step(
            N_("The cavity, by water"),
            N_(
                "The dry mold weighs 1840.0 g, brim full of water at 21 °C 3129.0 g. Dry it well afterwards: "
                "water makes foam of its own."
            ),
            "fill-with-water",
            {"dry": "1840 g", "full": "3129 g", "water": "21 °C"},
            (
                ByHand(
                    N_("Volume"), "(3129 - 1840) × (1 - 0.0012 ÷ 8) ÷ (0.99800 - 0.0012)", "1292.9 cm³", "volume_cm3"
                ),
            ),
        ),
        Step(
            N_("The shot"),
            N_(
                "The sheet gives a free-rise density of 96 kg/m³. A packing factor of 1.25 makes a firm skin. "
                "Three per cent stay in the cup. Density is multiplied by volume; an expansion would be divided "
                "by."
            ),
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
                ByHand(N_("Molded density"), "0.096 × 1.25", "0.120 g/cm³", "molded_g_cm3"),
                ByHand(N_("In the mold"), "1293 × 0.120", "155.2 g", "part_g"),
                ByHand(N_("To mix"), "155.16 ÷ (1 - 0.03)", "160.0 g", "mixed_g"),
                ByHand(N_("of it A"), "159.96 × 100 ÷ 160", "100.0 g", "masses_g.A"),
                ByHand(N_("and B"), "159.96 × 60 ÷ 160", "60.0 g", "masses_g.B"),
                ByHand(N_("Risen freely"), "155.16 ÷ 0.096", "1616 cm³", "free_rise_cm3"),
            ),
        ),
        Step(
            N_("A cold morning, 19 °C"),
            N_(
                "By its activation energy of 50 kJ/mol the pad cures slower. The pot life would be longer too, "
                "and the station still counts to the sheet's fifty seconds: only a sheet's own table lengthens a "
                "limit."
            ),
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
                ByHand(N_("Rate"), "exp(-50000 ÷ 8.3145 × (1 ÷ 292.15 - 1 ÷ 296.15))", "0.757", "rate_slow"),
                ByHand(N_("Demold, in seconds"), "1200 ÷ 0.7573", "1585 s", "demold_longest_s"),
            ),
        ),
        Step(
            N_("What a pad costs"),
            N_("Eight of ten pads came out good so far. The mold cost 64.00 and lasts for some sixty."),
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
                ByHand(N_("Material, in hundredths"), "160 × 14200 ÷ 8000", "284.0", "material_hundredths"),
                ByHand(N_("One cast"), "284 + 6400 ÷ 60 + 35", "425.7", "cast_hundredths"),
                ByHand(N_("A good one"), "425.67 ÷ ((8 + 1) ÷ (10 + 2))", "567.6", "good_part_hundredths"),
            ),
        ),
    ),
)
