"""The card as lines of text: a rhythm as strokes, "▪" short and "▬" long, and what it means."""

from __future__ import annotations

from collections.abc import Sequence

from station.signal_card.contents import Card
from station.signal_card.tones import LONG_FROM_S, Tone, rhythm
from station.texts import t


def listed(card: Card) -> Sequence[str]:
    """The card for a terminal."""
    return [
        *(line for tone in card.tones for line in _tone(tone)),
        *([""] if card.alarms else []),
        *(line for tone in card.alarms for line in _tone(tone)),
        *([""] if card.pours else []),
        *(f"{one.name}: {one.words}" for one in card.pours),
        *([""] if card.lamps else []),
        *(t('Lamp "{name}": {words}', name=one.name, words=one.words) for one in card.lamps),
        *([""] if card.presses else []),
        *(f"{one.name}: {one.words}" for one in card.presses),
        "",
        card.last,
    ]


def _tone(tone: Tone) -> Sequence[str]:
    strokes = "".join("▬" if on >= LONG_FROM_S else "▪" for on, _ in tone.pattern)
    first = f"{strokes:<10}  {rhythm(tone.pattern)}: {tone.meanings[0]}"
    return [first, *(f"{'':<12}{meaning}" for meaning in tone.meanings[1:])]
