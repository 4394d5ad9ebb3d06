"""Factors to scale a positive by, as a person types them."""

from __future__ import annotations

import re

from station.casting.positive import Three
from station.errors import Refused
from station.texts import t


def factors(text: str) -> Three:
    """ "1.05" for all three directions, or "1.05 x 1 x 1.02" to the right, to the back and upward. Raises Refused."""
    parts = [part.strip().replace(",", ".") for part in re.split(r"[x×*]", text.strip())]
    if len(parts) not in (1, 3) or not all(re.fullmatch(r"\d{1,4}(?:\.\d{1,9})?", part) for part in parts):
        raise Refused(
            t("{typed} is no scale.", typed=repr(text[:40])),
            t('Give one factor such as "1.05", or three such as "1.05 x 1 x 1.02".'),
        )
    numbers = [float(part) for part in parts]
    return (numbers[0],) * 3 if len(numbers) == 1 else (numbers[0], numbers[1], numbers[2])


def per_cent(text: str) -> float:
    """A number such as "0.5" or "0,5 %", in per cent. Raises Refused."""
    found = re.fullmatch(r"\s*([+-]?\d{1,3}(?:[.,]\d{1,6})?)\s*%?\s*", text)
    if found is None:
        raise Refused(t("{typed} is no percentage.", typed=repr(text[:40])), t('Give one such as "0.5 %".'))
    return float(found[1].replace(",", "."))
