"""A worked plan: a silicone mold around a footbed, from its volume by water to the wait for it."""

from __future__ import annotations

from station.texts import N_
from station.worksheets.guided.form import ByHand, Guide, Step

FOOTBED = Guide(
    "footbed",
    N_("A silicone mold around a footbed"),
    N_(
        "A footbed has been modelled in clay and sealed. It is 268 mm long, 96 mm wide and 31 mm high. Before "
        "the silicone is opened: how large is the box, how much goes into it, is there enough, and when can it "
        "be opened again?"
    ),
    (
        Step(
            N_("Its volume, by water"),
            N_(
                "The sealed positive weighs 520.0 g. In a cup of water on the scale, tared, it is held under "
                "with a thin rod until it touches nothing: the scale shows 394.6 g, of which the rod alone is "
                "0.8 g. What the water pushes up is what the positive displaces."
            ),
            "immerse",
            {"in-air": "520 g", "in-water": "394.6 g", "support": "0.8 g", "water": "21 °C"},
            (ByHand(N_("Volume"), "(394.6 - 0.8) × (1 - 0.0012 ÷ 8) ÷ (0.99800 - 0.0012)", "395.0 cm³", "volume_cm3"),),
        ),
        Step(
            N_("Box and silicone"),
            N_(
                "Half an inch, 12.7 mm, all around, below and above. Silicone is what is in the box less the "
                "positive; three per cent more are mixed, for what has cured cannot be topped up."
            ),
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
                ByHand(N_("Box"), "29.34 × 12.14 × 5.64", "2008.9 cm³", "box_cm3"),
                ByHand(N_("Silicone"), "2008.9 - 395", "1613.9 cm³", "silicone_cm3"),
                ByHand(N_("Mass to mix"), "1613.9 × 1.03 × 1.08", "1795.3 g", "mixed_g"),
                ByHand(N_("of it A"), "1795.3 × 10 ÷ 11", "1632.1 g", "masses_g.A"),
                ByHand(N_("and B"), "1795.3 × 1 ÷ 11", "163.2 g", "masses_g.B"),
                ByHand(N_("in each of two pours"), "1795.3 ÷ 2", "897.65 g", "each_pour_g"),
            ),
        ),
        Step(
            N_("Kits to buy"),
            N_(
                "A small pair has 1 kg of A and 100 g of B for 38.00, a large one five times that for 165.00. "
                "Two small pairs are the cheapest that cover it."
            ),
            "kits",
            {
                "need": "A 1632.1 g\nB 163.2 g",
                "kits": "small pair: A 1 kg, B 100 g, 38.00\nlarge pair: A 5 kg, B 500 g, 165.00",
            },
            (
                ByHand(N_("To pay, in hundredths"), "2 × 3800", "7600", "price_hundredths"),
                ByHand(N_("A left over"), "2 × 1000 - 1632.1", "367.9 g", "surplus_g.A"),
            ),
        ),
        Step(
            N_("How long, at 19 °C"),
            N_(
                "The sheet says 30 minutes and 4 hours at 23 °C and no energy, so the range of its chemistry "
                "counts, 40 to 90 kJ/mol. A wait is counted at its longest."
            ),
            "times-today",
            {
                "today": "19 °C",
                "pot-life": "30 min",
                "reserve": "4 min",
                "demold": "4 h",
                "chemistry": "addition-cure silicone",
            },
            (
                ByHand(
                    N_("Rate at 90 kJ/mol"), "exp(-90000 ÷ 8.3145 × (1 ÷ 292.15 - 1 ÷ 296.15))", "0.606", "rate_slow"
                ),
                ByHand(N_("Demold, in seconds"), "4 × 3600 ÷ 0.60626", "23752 s", "demold_longest_s"),
            ),
        ),
    ),
)
