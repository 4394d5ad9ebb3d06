"""The mold box against a worked row: 1/2 in of silicone over the top and all sides.

Source of the clearance: common hobby practice ("1/2 in over the top and all sides", printed on a hobby page); no
standard. The numbers are a constructed example, recomputed: 120 × 80 × 30 mm and 2 × 12.7 mm each way.
"""

import pytest

from station.casting.moldbox import USUAL_WALL_MM, Plan


def test_half_an_inch_around_a_model_of_120_by_80_by_30_mm():
    made = Plan((120.0, 80.0, 30.0), 150.0)
    assert USUAL_WALL_MM == 25.4 / 2
    assert made.inner == pytest.approx((145.4, 105.4, 55.4), abs=0.1)
    assert made.box == pytest.approx(849.1, abs=0.1)
    assert made.silicone == pytest.approx(699.1, abs=0.1)
