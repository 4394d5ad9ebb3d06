"""What a camera sees: codes as pixels, and an independent reader for them."""

import re

import numpy as np
import zxingcpp

DOT = 4


def read(dark):
    """What the reader finds in an array of dark modules."""
    picture = np.where(np.kron(dark, np.ones((DOT, DOT), bool)), 0, 255).astype(np.uint8)
    return [(found.text, found.format) for found in zxingcpp.read_barcodes(picture)]


def of_svg(text):
    """The dark modules of an SVG whose path draws them as strokes one unit high."""
    size = int(re.search(r'viewBox="0 0 (\d+) \1"', text)[1])
    dark = np.zeros((size, size), bool)
    x, y = 0.0, 0.0
    for kind, first, second in re.findall(
        r"([Mmh])(-?[\d.]+)(?: (-?[\d.]+))?", re.search(r'stroke="#000" d="(.*?)"', text)[1]
    ):
        if kind == "h":
            dark[int(y), int(x) : int(x + float(first))] = True
            x += float(first)
        elif kind == "M":
            x, y = float(first), float(second)
        else:
            x, y = x + float(first), y + float(second)
    return dark


def of_blocks(text):
    """The dark modules of lines of half blocks, each two modules high."""
    lines = re.sub(r"\x1b\[[\d;]*m", "", text).splitlines()
    upper = np.array([[c not in "█▀" for c in line] for line in lines])
    lower = np.array([[c not in "█▄" for c in line] for line in lines])
    return np.stack([upper, lower], axis=1).reshape(-1, upper.shape[1])
