"""The code at the bench cannot be guessed, and nobody is shut out for good."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from station.errors import Refused
from station.phone.doorkeeper import Doorkeeper
from station.phone.pairing import (
    CODE_LIVES_S,
    MAX_FAILURES,
    SHUT_FOR_S,
    Door,
    asked,
    refreshed,
    six_digits,
    tried,
)
from station.testing import ScriptedClock
from tests.phone.shown import opened_station


def keeper(codes):
    """A doorkeeper whose codes are 000001, 000002, …"""
    shown: list[str] = []
    clock = ScriptedClock()
    drawn = iter(codes)
    return Doorkeeper(clock, shown.append, None, lambda: next(drawn)), clock, shown


def test_a_code_opens_once():
    door, _, shown = keeper(["123456", "654321"])
    door.ask()
    door.open("123456", "phone")
    with pytest.raises(Refused, match="No code is waiting"):
        door.open("123456", "phone")
    assert shown == ["123456"]


def test_a_code_may_be_typed_with_a_gap():
    door, _, _ = keeper(["123456"])
    door.ask()
    door.open(" 123 456 ", "phone")
    with pytest.raises(Refused):
        door.open("123456", "phone")


def test_a_code_lives_ten_minutes():
    door, clock, _ = keeper(["111111", "222222"])
    door.ask()
    clock.advance(CODE_LIVES_S - 1)
    with pytest.raises(Refused, match="not the code"):
        door.open("000000", "phone")
    clock.advance(1)
    with pytest.raises(Refused, match="No code is waiting"):
        door.open("111111", "phone")


def test_asking_again_shows_the_same_code_so_that_nobody_can_spoil_it():
    door, clock, shown = keeper(["111111", "222222"])
    door.ask()
    clock.advance(60)
    door.ask()
    assert shown == ["111111", "111111"]
    door.open("111111", "phone")


def test_five_failures_shut_the_door_for_a_quarter_of_an_hour_and_not_for_longer():
    door, clock, _ = keeper(["111111", "222222", "333333", "444444"])
    door.ask()
    for _ in range(MAX_FAILURES):
        with pytest.raises(Refused):
            door.open("999999", "phone")
    for attempt in (door.ask, lambda: door.open("111111", "phone")):
        with pytest.raises(Refused, match="15:00"):
            attempt()
    clock.advance(SHUT_FOR_S - 1)
    with pytest.raises(Refused, match="0:01"):
        door.ask()
    clock.advance(1)
    door.ask()
    door.open("444444", "phone")


def test_failures_add_up_over_codes_that_ran_out():
    door, clock, _ = keeper([f"{n:06d}" for n in range(9)])
    for _ in range(MAX_FAILURES):
        door.ask()
        with pytest.raises(Refused):
            door.open("999999", "phone")
        clock.advance(CODE_LIVES_S)
    with pytest.raises(Refused, match="Too many wrong codes"):
        door.ask()


def test_a_jump_of_the_wall_clock_changes_nothing():
    door, clock, _ = keeper(["111111", "222222"])
    door.ask()
    clock.step_wall(86400 * 365)
    door.open("111111", "phone")


def test_codes_are_six_digits():
    codes = {six_digits() for _ in range(200)}
    assert all(len(code) == 6 and code.isdigit() for code in codes)
    assert len(codes) > 150


@given(trusted=st.booleans(), days=st.integers(0, 80))
def test_a_pairing_ends_thirty_days_after_the_device_was_last_seen_when_the_days_are_known(trusted, days):
    door, clock, _ = keeper(["123456"])
    clock.trust(trusted)
    door.ask()
    key = door.open("123456", "phone")
    clock.advance(20 * 86400)
    assert door.greet(key) is not None
    clock.advance(days * 86400)
    assert (door.greet(key) is not None) is (not trusted or days < 30)


@pytest.mark.parametrize("key", [None, "", "phone", {}, {"device": "phone"}, 7])
def test_a_key_that_is_none_opens_nothing(key):
    door, _, _ = keeper(["123456"])
    door.ask()
    door.open("123456", "phone")
    assert door.greet(key) is None
    assert not door.knows(key)


class Guesser(RuleBasedStateMachine):
    """Somebody who asks, guesses and waits in any order never gets more than five guesses in a quarter of an hour."""

    def __init__(self):
        super().__init__()
        self.clock = ScriptedClock()
        self.door = Door()
        self.compared: list[float] = []

    def present(self):
        """The door as it stands now, and whether a guess would be compared."""
        return refreshed(self.door, self.clock.now())

    @rule()
    def ask(self):
        if self.present().shut is None:
            self.door = asked(self.door, self.clock.now(), "314159")
            return
        with pytest.raises(Refused, match="Too many"):
            asked(self.door, self.clock.now(), "314159")

    @rule(code=st.integers(0, 999_999).filter(lambda n: n != 314159))
    def guess(self, code):
        if self.present().code is not None:
            self.compared.append(self.clock.now().boot_s)
        self.door, why = tried(self.door, self.clock.now(), f"{code:06d}")
        assert why

    # Whole seconds: their sums are exact, so that the limit itself is tried.
    @rule(seconds=st.integers(1, 1200))
    def wait(self, seconds):
        self.clock.advance(seconds)

    @invariant()
    def no_sixth_guess_without_the_delay(self):
        last, first = self.compared[MAX_FAILURES - 1 :: MAX_FAILURES], self.compared[MAX_FAILURES::MAX_FAILURES]
        assert all(after - before >= SHUT_FOR_S for before, after in zip(last, first, strict=False))

    @invariant()
    def a_quarter_of_an_hour_always_opens_it_again(self):
        now = self.clock.now()
        later = replace(now, boot_s=now.boot_s + SHUT_FOR_S)
        assert asked(self.door, later, "271828").shut is None


TestGuesser = Guesser.TestCase


def test_a_device_that_leaves_may_not_touch_any_more():
    with opened_station() as station:
        visitor = station.paired()
        assert visitor.ask("press", {"press": "short"}).status_code == 200
        assert visitor.send("/pair/leave").status_code == 303
        assert visitor.ask("press", {"press": "short"}).status_code == 403


def test_a_cookie_signed_before_the_clock_was_set_back_still_counts():
    with opened_station() as station:
        visitor = station.paired()
        station.clock.step_wall(-86400 * 400)
        station.clock.trust(False)
        assert visitor.ask("press", {"press": "short"}).status_code == 200


def test_a_forged_cookie_is_an_empty_session():
    with opened_station() as station:
        visitor = station.paired()
        cookie = visitor.client.get_cookie("tarebell-80")
        assert cookie is not None
        assert cookie.http_only
        assert cookie.same_site == "Lax"
        payload, signature = cookie.value.rsplit(".", 1)
        visitor.client.set_cookie("tarebell-80", f"{payload}x.{signature}")
        assert visitor.ask("press", {"press": "short"}).status_code == 403
