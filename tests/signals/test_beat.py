"""Beat: a clock of our own in the place of the machine's."""

from __future__ import annotations

import itertools

from hypothesis import given
from hypothesis import strategies as st

from station.core.cues import Cue
from station.signals.beat import Beat
from station.signals.patterns import CUES
from station.signals.score import Score


class Hand:
    """A clock that is set by hand."""

    def __init__(self) -> None:
        self.at_s = 10.0

    def __call__(self) -> float:
        return self.at_s


def test_it_runs_with_the_clock_while_nothing_is_late() -> None:
    hand = Hand()
    beat = Beat(hand)
    beat.stop_at(12.0)
    hand.at_s = 11.5
    assert beat.now() == 11.5


def test_it_stands_still_at_an_edge_until_the_edge_is_played_and_then_runs_on_from_there() -> None:
    hand = Hand()
    beat = Beat(hand)
    beat.stop_at(12.0)
    hand.at_s = 15.0
    assert [beat.now(), beat.now()] == [12.0, 12.0]
    hand.at_s = 16.0
    assert beat.now() == 12.0
    beat.stop_at(None)
    hand.at_s = 16.5
    assert beat.now() == 12.5


@given(cue=st.sampled_from(list(Cue)), late=st.lists(st.floats(0, 5), min_size=1, max_size=30))
def test_however_late_each_edge_is_played_every_pulse_is_played_in_full(cue: Cue, late: list[float]) -> None:
    hand = Hand()
    beat, score = Beat(hand), Score()
    score.cue(CUES[cue], beat.now())
    changes: list[tuple[bool, float]] = []
    lateness = itertools.cycle(late)
    on, until_s = score.at(beat.now())
    while until_s is not None:
        if not changes or changes[-1][0] is not on:
            changes.append((on, hand.at_s))
        beat.stop_at(until_s)
        hand.at_s += until_s - beat.now() + next(lateness)
        on, until_s = score.at(beat.now())
    pulses = [b - a for (on, a), (_, b) in itertools.pairwise(changes) if on]
    assert len(pulses) == len(CUES[cue])
    assert all(lasted >= on_s - 1e-6 for lasted, (on_s, _) in zip(pulses, CUES[cue], strict=True))
