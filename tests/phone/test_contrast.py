"""Words stand out from what is behind them. Contrast ratio and limits: WCAG 2.2, success criteria 1.4.3 and 1.4.11."""

import re

import pytest

from station.phone.files import page_root

SHEET = (page_root() / "static" / "station.css").read_text()
WORDS = [
    ("ink", "paper"),
    ("ink", "card"),
    ("ink", "tube"),
    ("soft", "paper"),
    ("soft", "card"),
    ("soft", "tube"),
    ("go-ink", "go"),
    ("slow-ink", "slow"),
    ("hold-ink", "hold"),
    ("bad-ink", "bad"),
]
SHAPES = [("fill", "tube"), ("fill", "paper"), ("edge", "tube"), ("edge", "band"), ("bad", "tube"), ("hold", "tube")]


def colours(dark):
    """The named colours of a scheme; the dark one replaces those of the light one."""
    light, night = re.findall(r":root \{(.*?)\}", SHEET, re.DOTALL)[:2]
    found = dict(re.findall(r"--([\w-]+): (#\w{6})", light))
    return found | (dict(re.findall(r"--([\w-]+): (#\w{6})", night)) if dark else {})


def luminance(colour):
    """Relative luminance as WCAG 2.2 defines it for sRGB."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_ratio_runs_from_1_to_21():
    assert contrast("#ffffff", "#ffffff") == 1
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize(("front", "back"), WORDS)
def test_words_have_a_contrast_of_at_least_4_5(front, back, dark):
    named = colours(dark)
    assert contrast(named[front], named[back]) >= 4.5


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize(("front", "back"), SHAPES)
def test_shapes_have_a_contrast_of_at_least_3(front, back, dark):
    named = colours(dark)
    assert contrast(named[front], named[back]) >= 3
