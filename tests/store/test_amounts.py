"""A poured-out cup that holds more than one thing: what stays in it, or leaves it, is shared as it was weighed.

The sums are worked out by hand: a cup of 100 g A and 10 g pigment, mixed, loses both in that proportion.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from station.core import events as ev
from station.core.mass import Mass
from station.core.plan import Share
from station.store.amounts import Weighed, ingredients, ratio, total
from tests.store.stories import G, Story, foam_plan

PLAN = replace(
    foam_plan(),
    shares=(
        Share("A", "A", 0.625, G(100), 2.0, stays=G(1)),
        Share("pigment", "A", 0.0625, G(10), 5.0, component=False),
        Share("B", "B", 0.375, G(60), 2.0),
    ),
)


def weighed_with(*more: ev.Event) -> Weighed:
    story = Story()
    for step, (name, cup, mass) in enumerate((("A", "A", G(100)), ("pigment", "A", G(10)), ("B", "B", G(60)))):
        story.tell(ev.Accepted(1, step, name, cup, mass, mass, mass, mass, mass))
    for event in more:
        story.tell(event, 1)
    return Weighed.of(story.entries)


@pytest.mark.parametrize(
    ("more", "in_mix", "known_by"),
    [
        ((ev.Combined(1, 3, "A", G("105.6"), G(109), True, None),), (G(96), G("9.6"), G(60)), "gained"),
        ((ev.EmptiedCupWeighed(1, "A", "A", G("2.2"), G(110)),), (G(98), G("9.8"), G(60)), "emptied cup"),
        ((), (G(99), G(10), G(60)), "allowance"),
    ],
)
def test_what_a_cup_keeps_or_gives_is_shared_as_it_was_weighed(
    more: tuple[ev.Event, ...], in_mix: tuple[Mass, ...], known_by: str
) -> None:
    amounts = ingredients(PLAN, weighed_with(*more))
    assert tuple(one.in_mix for one in amounts) == in_mix
    assert known_by in amounts[0].in_mix_by
    assert total(amounts) == in_mix[0] + in_mix[1] + in_mix[2]
    a, b = ratio(PLAN, amounts)
    assert (a.component, b.component) == ("A", "B"), "the pigment is no part of the ratio"
    assert b.error_percent == pytest.approx(60 / in_mix[0].g / 0.6 * 100 - 100)


def test_what_is_combined_in_two_goes_counts_together() -> None:
    goes = [ev.Combined(1, 3, "A", G(mass), G(109), True, None) for mass in (60, 50)]
    assert ingredients(PLAN, weighed_with(*goes))[0].in_mix == G(100)
