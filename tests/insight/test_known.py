"""What plans use by themselves, and how sure that is."""

import pytest

from station.casting.loss import Emptied
from station.core.standing import ClingLesson, Standing
from station.insight.known import known_words
from tests.play import FOAM


def test_losses_of_this_size_and_cling_are_told_with_their_intervals():
    standing = Standing(
        losses=(Emptied(900.0, 4.0), Emptied(300.0, 9.0), Emptied(930.0, 6.0)),
        lessons=(ClingLesson("foam", "A", 1.5), ClingLesson("other", "A", 8.0)),
    )
    loss, cling = known_words(standing, FOAM, 900.0)
    # Student's t on one degree of freedom: 12.706 (NIST/SEMATECH e-Handbook 1.3.6.7.2); 5 ± 12.706 sqrt(2) / sqrt(2).
    assert loss == (
        "Loss in cups of 900 g: 5.00 % of the last 2 emptied cups, the mean 19 times in 20 between 0.00 and 17.71 %. "
        "Every plan uses it."
    )
    assert cling.startswith("Cling of A: 1.50 % of 1 emptied cup.")


@pytest.mark.parametrize("standing", [Standing(), Standing(losses=(Emptied(300.0, 9.0),))])
def test_nothing_is_told_of_what_was_never_weighed(standing):
    assert known_words(standing, FOAM, 900.0) == ()
