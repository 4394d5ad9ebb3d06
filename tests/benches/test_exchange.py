"""Benches at one log: each sees the others' casts, and can acknowledge an alarm at another's, once."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from pathlib import Path

import psycopg
import pytest

from station.benches import errands
from station.core.clocks import AlarmState, ClockKind
from station.errors import Refused
from station.neighbours import Errand, ErrandState
from tests.benches.desk import copied, dsn, wrong_with
from tests.benches.stand import Stand

Open = Callable[..., Stand]


@pytest.fixture
def opened(tmp_path: Path, url: str) -> Iterator[Open]:
    stands: list[Stand] = []

    def open_one(bench: int, folder: str = "", at: str = "") -> Stand:
        stands.append(Stand(tmp_path / (folder or f"bench-{bench}"), at or url, bench))
        return stands[-1]

    yield open_one
    for stand in stands:
        stand.close()


@pytest.fixture
def two(opened: Open) -> tuple[Stand, Stand]:
    """Bench 1, and bench 2 where a demold alarm sounds; both have told it."""
    one, other = opened(1), opened(2)
    other.cast()
    other.until_demold_sounds()
    other.turn()
    one.turn()
    return one, other


def acknowledged(stand: Stand, number: int) -> list[tuple[ClockKind, str]]:
    cast = stand.loop.standing().cast(number)
    assert cast is not None
    return [(c.kind, c.acknowledged_by) for c in cast.clocks if c.state is AlarmState.ACKNOWLEDGED]


def test_a_bench_sees_what_is_at_hand_at_the_others_with_clocks_and_alarms(two: tuple[Stand, Stand]) -> None:
    one, _ = two
    seen = one.sees_of(2)
    (cast,) = seen.at_hand.casts
    assert (seen.title, cast.number, cast.mold, cast.at_bench) == ("Bench 2", 2, "Paddle grip", False)
    assert [dial.kind for dial in cast.dials] == [ClockKind.DEMOLD, ClockKind.FULL_CURE]
    assert all(dial.due is not None for dial in cast.dials)
    assert [(alarm.number, alarm.clock) for alarm in seen.at_hand.alarms] == [(2, ClockKind.DEMOLD)]
    (line,) = one.sees.casts
    assert (line.bench, line.number, line.stage) == (2, 2, "in the mold")
    assert "Paddle grip" in line.text


def test_an_alarm_is_acknowledged_for_another_bench_and_the_asker_learns_of_it(two: tuple[Stand, Stand]) -> None:
    one, other = two
    one.neighbours.wish(2, 2, ClockKind.DEMOLD, "Bench 1: page (phone)")
    assert [errand.state for errand in one.sees.errands] == [ErrandState.WAITING]
    one.turn()
    assert [errand.state for errand in one.sees.errands] == [ErrandState.ASKED]
    assert other.alarms
    other.turn()
    assert not other.alarms
    assert (ClockKind.DEMOLD, "Bench 1: page (phone)") in acknowledged(other, 2)
    other.turn()
    one.turn()
    (errand,) = one.sees.errands
    assert (errand.state, errand.words) == (ErrandState.DONE, "Cast 2: acknowledged.")
    assert one.sees_of(2).at_hand.alarms == ()
    assert len(other.handed) == 1


def test_an_alarm_that_was_answered_there_meanwhile_is_refused_in_that_bench_s_own_words(
    two: tuple[Stand, Stand],
) -> None:
    one, other = two
    one.neighbours.wish(2, 2, ClockKind.DEMOLD, "Bench 1")
    one.turn()
    other.press()
    other.turn()
    one.turn()
    (errand,) = one.sees.errands
    words = "The demold alarm of cast 2 was already acknowledged by pedal."
    assert (errand.state, errand.words) == (ErrandState.REFUSED, words)


def test_a_wish_is_not_repeated_while_it_is_on_its_way(two: tuple[Stand, Stand]) -> None:
    one, other = two
    for _ in range(3):
        one.neighbours.wish(2, 2, ClockKind.DEMOLD, "Bench 1")
        one.turn()
    other.turn()
    assert len(other.handed) == 1


@pytest.mark.parametrize(
    ("bench", "number", "clock", "told"),
    [
        (3, 2, ClockKind.DEMOLD, "no other bench 3"),
        (1, 2, ClockKind.DEMOLD, "no other bench 1"),
        (2, 12, ClockKind.DEMOLD, "No demold alarm of cast 12 sounds at bench 2"),
        (2, 2, ClockKind.POT_LIFE, "No pot life alarm of cast 2"),
    ],
)
def test_a_wish_for_what_is_not_there_is_refused_at_once(
    two: tuple[Stand, Stand], bench: int, number: int, clock: ClockKind, told: str
) -> None:
    with pytest.raises(Refused, match=told):
        two[0].neighbours.wish(bench, number, clock, "x")
    assert two[0].neighbours.waiting() == ()


def test_an_answer_that_the_log_forgot_is_told_again_and_nothing_is_done_twice(two: tuple[Stand, Stand]) -> None:
    """The errand stands there as taken after the bench has acted: as when the answering commit was lost."""
    one, other = two
    one.neighbours.wish(2, 2, ClockKind.DEMOLD, "Bench 1")
    one.turn()
    with other.server.transaction() as db:
        taken = errands.take(db, 2, other.exchange._run)
    other.exchange._doing.take(taken)
    assert not other.alarms
    for _ in range(2):
        other.turn()
    one.turn()
    assert one.sees.errands[0].state is ErrandState.DONE
    assert len(other.handed) == 1


@pytest.mark.parametrize("acted", [True, False], ids=["it had acted", "it had not"])
def test_a_bench_that_is_started_anew_in_the_middle_of_an_errand_does_not_act_on_it_again(
    two: tuple[Stand, Stand], opened: Open, acted: bool
) -> None:
    one, other = two
    one.neighbours.wish(2, 2, ClockKind.DEMOLD, "Bench 1")
    one.turn()
    with other.server.transaction() as db:
        (errand,) = errands.take(db, 2, other.exchange._run)
    if acted:
        other.exchange._doing.take((errand,))
    other.close()
    again = opened(2)
    again.turn()
    one.turn()
    assert again.handed == []
    (answer,) = one.sees.errands
    assert bool(again.alarms) is not acted
    assert (answer.state, "ask again" in answer.words) == (
        (ErrandState.DONE, False) if acted else (ErrandState.REFUSED, True)
    )


def test_what_nobody_fetches_within_an_hour_expires_with_a_sentence_and_is_not_done(
    two: tuple[Stand, Stand], url: str
) -> None:
    one, other = two
    one.neighbours.wish(2, 2, ClockKind.DEMOLD, "Bench 1")
    one.turn()
    with psycopg.connect(dsn(url)) as db:
        db.execute("UPDATE errand SET asked = asked - interval '61 minutes'")
    other.turn()
    one.turn()
    (errand,) = one.sees.errands
    assert errand.state is ErrandState.EXPIRED
    assert "has not fetched it within an hour" in errand.words
    assert other.handed == []


def test_a_wish_that_never_left_for_an_hour_expires_here(two: tuple[Stand, Stand], url: str) -> None:
    one, _ = two
    one.neighbours.wish(2, 2, ClockKind.DEMOLD, "Bench 1")
    one.neighbours.away("gone")
    assert one.sees.errands[0].state is ErrandState.WAITING
    with pytest.raises(Refused, match="not to be had now"):
        one.neighbours.wish(2, 2, ClockKind.DEMOLD, "Bench 1")
    one.clock.advance(3700)
    one.neighbours.away("gone")
    assert one.sees.errands[0].state is ErrandState.EXPIRED
    one.turn()
    with psycopg.connect(dsn(url)) as db:
        assert db.execute("SELECT count(*) FROM errand").fetchone() == (0,)


def test_an_errand_in_words_of_a_newer_version_is_left_alone(two: tuple[Stand, Stand], url: str) -> None:
    one, other = two
    with one.server.transaction() as db:
        errands.ask(db, 1, Errand("a-key", 2, 2, ClockKind.DEMOLD, "Bench 1"))
    with psycopg.connect(dsn(url)) as db:
        db.execute("UPDATE errand SET clock = 'TEA_TIME'")
    other.turn()
    assert other.handed == []


def test_two_stations_that_claim_one_digit_are_told_apart_and_both_records_stay_whole(opened: Open, url: str) -> None:
    first, second = opened(2), opened(2, "another folder")
    first.cast()
    first.turn()
    second.cast()
    second.until_demold_sounds()
    second.turn()
    assert "Another station, Bench 2, is bench 2" in second.sees.refused
    assert first.sees.refused == ""
    assert wrong_with(copied(url, 2)) == ""
    assert copied(url, 2) == list(first.feed.rows_after(0, 10**6))
    assert second.alarms, "its own bench goes on"
    with pytest.raises(Refused, match="not to be had"):
        second.neighbours.wish(1, 1, ClockKind.DEMOLD, "x")


def test_a_bench_says_what_has_changed_at_once_and_that_it_lives_twice_a_minute(opened: Open, url: str) -> None:
    stand = opened(5)
    told: list[object] = []

    def turn() -> None:
        stand.turn()
        with psycopg.connect(dsn(url)) as db:
            told.append(db.execute("SELECT at FROM bench_now WHERE bench = 5").fetchone())

    turn()
    stand.wait(10)
    turn()
    stand.wait(21)
    turn()
    stand.begin()
    turn()
    turn()
    assert [later != earlier for earlier, later in itertools.pairwise(told)] == [False, True, True, False]


def test_what_a_bench_of_another_version_tells_does_not_hide_the_rest(two: tuple[Stand, Stand], url: str) -> None:
    one, _ = two
    with psycopg.connect(dsn(url)) as db:
        db.execute("INSERT INTO bench_now VALUES (7, 'x', 'Bench 7', now(), '{\"casts\": 7}')")
    one.turn()
    assert "cannot be read" in one.sees_of(7).unclear
    assert one.sees_of(2).at_hand.alarms
