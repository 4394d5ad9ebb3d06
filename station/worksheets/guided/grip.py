"""A worked plan: a urethane grip for a paddle, from its pattern to how long a cup of it lives."""

from __future__ import annotations

from station.texts import N_
from station.worksheets.guided.form import ByHand, Guide, Step

GRIP = Guide(
    "paddle-grip",
    N_("A urethane grip for a paddle"),
    N_(
        "The rubber is mixed one to one by volume, and the scale weighs. How much of each, how large must the "
        "pattern be so that the grip is not too small, and how long does a cup of it live?"
    ),
    (
        Step(
            N_("The pattern"),
            N_(
                "The sheet gives 0.3 % of linear shrinkage. A grip of 120 mm needs a pattern that is longer by 1 "
                "÷ (1 − 0.003), not by 1 + 0.003."
            ),
            "scale-part",
            {"shrinkage": "0.3 %", "length": "120 mm", "volume": "197.5 cm3"},
            (
                ByHand(N_("Pattern to part"), "1 ÷ (1 - 0.003)", "1.00301", "length_scale"),
                ByHand(N_("Length of the pattern"), "120 × 1.0030090", "120.36 mm", "length_mm"),
            ),
        ),
        Step(
            N_("The batch"),
            N_(
                "By volume 1 : 1, with 1.06 and 0.98 g/cm³; the cavity has 197.5 cm³, and three per cent stay in "
                "the cup."
            ),
            "batch",
            {
                "ratio": "1:1",
                "basis": "by volume",
                "densities": "1.06 : 0.98",
                "volume": "197.5 cm3",
                "density": "1.02 g/cm3",
                "loss": "3 %",
            },
            (
                ByHand(N_("Mix"), "197.5 × 1.02 ÷ (1 - 0.03)", "207.68 g", "total_g"),
                ByHand(N_("of it A"), "207.68 × 1.06 ÷ (1.06 + 0.98)", "107.91 g", "masses_g.A"),
                ByHand(N_("and B"), "207.68 × 0.98 ÷ (1.06 + 0.98)", "99.77 g", "masses_g.B"),
            ),
        ),
        Step(
            N_("Do both ratios agree?"),
            N_("The sheet also prints 100 : 92.5 by weight. By volume it is 92.45: the difference is in the rounding."),
            "two-ratios",
            {"weight": "100:92.5", "volume": "1:1", "densities": "1.06 : 0.98"},
            (ByHand(N_("Apart, in %"), "(0.925 ÷ (0.98 ÷ 1.06) - 1) × 100", "0.05", "apart_percent"),),
        ),
        Step(
            N_("How long it lives in one cup"),
            N_(
                "The sheet's fifteen minutes are for 100 g. Its table says 11 minutes for 500 g; 207.68 g lie "
                "between, on a straight line of logarithms."
            ),
            "pot-life-mass",
            {"mass": "207.68 g", "pot-life": "15 min", "stated-mass": "100 g", "table": "100 g 15 min\n500 g 11 min"},
            (ByHand(N_("Pot life"), "900 × (660 ÷ 900) ** (log(207.68 ÷ 100) ÷ log(5))", "781.8 s", "pot_life_s"),),
        ),
    ),
)
