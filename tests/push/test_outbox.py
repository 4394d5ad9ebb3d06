"""The outbox as a whole: any course of matters, failures and time, with a judge that knows only the promises."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from station.core.matters import USUAL, Matter, Occasion
from station.push.outbox import (
    GAPS_S,
    MOST,
    Letter,
    Letters,
    Stage,
    begun,
    come_back,
    looked_through,
    lost_matters,
    next_due,
    waiting_for,
)

TO = ("phone", "desk")
DEMOLD = Matter("cast 12 demold boot-1 5.000", Occasion.DEMOLD, "Cast 12: ready to demold.")
LOST = Matter("scale lost", Occasion.SCALE, "The scale is lost.")


@dataclass
class Post:
    """Runs the outbox with addresses that take a message or do not."""

    letters: Letters = ()
    now_s: float = 0.0
    quiet: bool = False
    sent: list[tuple[str, str]] = field(default_factory=list)
    attempts: list[tuple[float, Letter]] = field(default_factory=list)

    def turn(self, matters: list[Matter], works: set[str], to: tuple[str, ...] = TO) -> None:
        self.letters = looked_through(self.letters, matters, USUAL, to, self.now_s)
        while (letter := next_due(self.letters, matters, self.now_s, quiet=self.quiet)) is not None:
            self.attempts.append((self.now_s, letter))
            self.letters = begun(self.letters, letter)
            taken = letter.to in works
            if taken:
                self.sent.append((letter.matter, letter.to))
            self.letters = come_back(self.letters, letter, taken=taken, now_s=self.now_s)


def test_a_message_goes_once_to_each_address() -> None:
    post = Post()
    for post.now_s in (0.0, 1.0, 3600.0):
        post.turn([DEMOLD], set(TO))
    assert post.sent == [(DEMOLD.key, "phone"), (DEMOLD.key, "desk")]


def test_a_failing_address_is_tried_for_half_an_hour_at_growing_gaps_and_then_given_up() -> None:
    post = Post()
    for second in range(4000):
        post.now_s = float(second)
        post.turn([DEMOLD], set(), ("phone",))
    times = [at for at, _ in post.attempts]
    gaps = [after - before for before, after in pairwise(times)]
    assert gaps == list(GAPS_S) == sorted(GAPS_S)
    assert times[-1] == 1800.0
    assert lost_matters(post.letters) == (DEMOLD.key,)
    assert waiting_for(post.letters, "phone") == 0


def test_nothing_is_lost_while_one_address_took_it() -> None:
    post = Post()
    for post.now_s in range(2000):
        post.turn([DEMOLD], {"desk"})
    assert post.sent == [(DEMOLD.key, "desk")]
    assert lost_matters(post.letters) == ()


def test_an_alarm_that_is_acknowledged_before_it_was_sent_is_withdrawn() -> None:
    post = Post()
    post.turn([DEMOLD], set())
    post.now_s = 20.0
    post.turn([], set(TO))
    assert post.sent == []
    assert post.letters == ()


def test_quiet_hours_hold_a_message_and_it_goes_at_their_end_if_it_is_still_true() -> None:
    post = Post(quiet=True)
    post.turn([DEMOLD, LOST], set(TO))
    assert post.attempts == []
    assert waiting_for(post.letters, "phone") == 2
    post.quiet, post.now_s = False, 9 * 3600.0
    post.turn([LOST], set(TO))
    assert post.sent == [(LOST.key, "phone"), (LOST.key, "desk")]


def test_quiet_hours_cost_a_message_no_attempt() -> None:
    post = Post()
    post.turn([DEMOLD], set())
    post.quiet = True
    for post.now_s in range(20, 5000, 20):
        post.turn([DEMOLD], set())
    post.quiet = False
    post.turn([DEMOLD], set(TO))
    assert len(post.sent) == len(TO)


def test_what_nobody_has_chosen_is_not_sent() -> None:
    post = Post()
    post.turn([Matter("cast 1 pot life boot-1 1.000", Occasion.POT_LIFE, "Over.")], set(TO))
    assert post.attempts == []


def test_a_fault_that_shows_no_sign_just_now_waits_and_is_not_told_twice() -> None:
    post = Post()
    gone = Matter(LOST.key, LOST.occasion, LOST.words, live=False)
    post.turn([LOST], {"desk"})
    for post.now_s in (20.0, 30.0):
        post.turn([gone], set(TO))
    assert post.sent == [(LOST.key, "desk")]
    post.turn([LOST], set(TO))
    assert post.sent == [(LOST.key, "desk"), (LOST.key, "phone")]


def test_the_outbox_is_bounded_and_what_had_no_room_goes_later() -> None:
    many = [Matter(f"cast {n}", Occasion.DEMOLD, "Ready.") for n in range(MOST)]
    post = Post(quiet=True)
    post.turn(many, set())
    assert len(post.letters) == MOST
    post.quiet = False
    post.turn(many[MOST // 2 :], set(TO))
    assert len(post.letters) == MOST
    assert len(post.sent) == MOST


MATTERS = st.lists(st.sampled_from(["a", "b", "c"]), unique=True)
TURNS = st.lists(
    st.tuples(st.floats(0.1, 600), MATTERS, st.sets(st.sampled_from(TO)), st.booleans()), min_size=1, max_size=60
)


@given(TURNS)
def test_in_any_course_nothing_is_sent_twice_untrue_in_quiet_hours_or_after_it_was_given_up(
    turns: list[tuple[float, list[str], set[str], bool]],
) -> None:
    post = Post()
    since: dict[str, float] = {}
    for seconds, keys, works, quiet in turns:
        post.now_s += seconds
        post.quiet = quiet
        since = {key: since.get(key, post.now_s) for key in keys}
        before = len(post.attempts)
        post.turn([Matter(key, Occasion.DEMOLD, "Ready.") for key in keys], works)
        new = post.attempts[before:]
        assert not (quiet and new)
        assert all(letter.matter in keys for _, letter in new)
        for key in keys:
            for to in TO:
                mine = [at for at, one in post.attempts if (one.matter, one.to) == (key, to) and at >= since[key]]
                assert len(mine) <= 1 + len(GAPS_S)
        ended = [sent for sent in post.sent if sent[0] not in keys]
        post.sent = [sent for sent in post.sent if sent not in ended]
        assert len(set(post.sent)) == len(post.sent)


@given(TURNS)
def test_in_any_course_what_lasts_is_sent_once_the_address_works(
    turns: list[tuple[float, list[str], set[str], bool]],
) -> None:
    post = Post()
    for seconds, keys, works, quiet in turns:
        post.now_s += seconds
        post.quiet = quiet
        post.turn([Matter(key, Occasion.DEMOLD, "Ready.") for key in keys], works)
    post.now_s, post.quiet = post.now_s + GAPS_S[-1], False
    last = [Matter("a", Occasion.DEMOLD, "Ready.")]
    post.turn(last, set(TO))
    assert {one.to for one in post.letters} == set(TO)
    assert all(one.stage in (Stage.SENT, Stage.GIVEN_UP) for one in post.letters)
