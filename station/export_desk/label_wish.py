"""Which labels are wished for: on what, in which size, how many, and from which place of a used sheet on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Final

from station.errors import WrongField
from station.paper.label_sizes import BY_KEY, SIZES, Size
from station.texts import N_, t

MOST: Final = 100


class On(Enum):
    """What a label is stuck on. The value is its name in words."""

    PART = N_("part")
    MOLD = N_("mold")
    CUP = N_("cup")


KINDS: Final = tuple(on.name.lower() for on in On)
KEYS: Final = tuple(size.key for size in SIZES)


@dataclass(frozen=True, slots=True)
class LabelWish:
    """So many labels; `start` counts from 1."""

    on: On = On.PART
    size: Size = SIZES[0]
    copies: int = 1
    start: int = 1

    @classmethod
    def of(cls, on: str, size: str, copies: int | str, start: int | str) -> LabelWish:
        """The wish as it was typed. Raises WrongField."""
        if on not in KINDS:
            raise WrongField("on", t("Labels are for a part, a mold or a cup."), t("Choose one of the list."))
        if size not in BY_KEY:
            raise WrongField("size", t("There is no such size of labels."), t("Choose one of the list."))
        wanted = BY_KEY[size]
        number = _whole("copies", copies, MOST, t("How many"))
        first = _whole("start", start, wanted.places, t("First free place of a used sheet"))
        return cls(On[on.upper()], wanted, number, first)


def _whole(field: str, typed: int | str, most: int, name: str) -> int:
    text = str(typed).strip()
    value = int(text) if text.isascii() and text.isdigit() and len(text) < 6 else 0
    if not 1 <= value <= most:
        words = t("{name}: {typed} is no number from 1 to {most}.", name=name, typed=repr(text[:20]), most=most)
        raise WrongField(field, words)
    return value
