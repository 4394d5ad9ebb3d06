"""Limits: a person never meets them, a swarm always does, and the table stays small."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.phone.limits import RATES, Limits, Rate, TooOften, neighbourhood
from station.testing import ScriptedClock
from tests.phone.shown import opened_station

RATE = Rate(3, 10.0)


def granted(limits, address, times=1, route="r"):
    """How many of so many were granted."""
    count = 0
    for _ in range(times):
        try:
            limits.check(route, address)
            count += 1
        except TooOften:
            pass
    return count


@given(st.lists(st.one_of(st.none(), st.integers(1, 25)), max_size=60))
def test_no_more_than_the_rate_allows_in_any_order_of_asking_and_waiting(happenings):
    clock, limits = ScriptedClock(), None
    limits = Limits(clock, {"r": RATE})
    got, began_s = 0, clock.now().boot_s
    for wait_s in happenings:
        if wait_s is None:
            got += granted(limits, "10.0.0.1")
        else:
            clock.advance(wait_s)
    assert got <= RATE.at_once + (clock.now().boot_s - began_s) / RATE.every_s


def test_who_waits_as_long_as_told_is_granted():
    clock = ScriptedClock()
    limits = Limits(clock, {"r": RATE})
    assert granted(limits, "10.0.0.1", 5) == 3
    with pytest.raises(TooOften) as told:
        limits.check("r", "10.0.0.1")
    assert "Wait 10 seconds" in told.value.sentence()
    clock.advance(told.value.wait_s)
    assert granted(limits, "10.0.0.1", 2) == 1
    assert granted(limits, "10.0.0.2", 5) == 3


def test_what_is_not_limited_never_is():
    limits = Limits(ScriptedClock(), {"r": RATE})
    assert granted(limits, "10.0.0.1", 1000, "other") == 1000
    assert len(limits) == 0


def test_a_swarm_of_addresses_fills_no_memory_shares_one_allowance_and_slows_nobody_known():
    clock = ScriptedClock()
    limits = Limits(clock, {"r": RATE}, most=100)
    assert granted(limits, "192.0.2.7") == 1
    swarm = [f"10.{n >> 8}.{n & 255}.1" for n in range(2000)]
    assert sum(granted(limits, address) for address in swarm) == 99 + RATE.at_once
    assert len(limits) <= 101
    assert granted(limits, "192.0.2.7", 5) == 2
    clock.advance(100)
    assert granted(limits, "192.0.2.9", 5) == 3
    assert len(limits) <= 2


@pytest.mark.parametrize(
    ("address", "counts_as"),
    [
        ("192.168.4.7", "192.168.4.7"),
        ("::ffff:192.168.4.7", "192.168.4.7"),
        ("fe80::1%wlan0", "fe80::/64"),
        ("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64"),
        ("", "elsewhere"),
        (None, "elsewhere"),
        ("nonsense", "elsewhere"),
    ],
)
def test_one_device_is_one_address_however_many_it_has(address, counts_as):
    assert neighbourhood(address) == counts_as


def test_asking_for_codes_again_and_again_is_stopped_with_a_sentence_and_a_time_to_wait():
    with opened_station() as station:
        visitor = station.paired()
        visitor.send("/pair/leave")
        visitor.look("/pair")
        most = RATES["door.ask"].at_once
        answers = [visitor.send("/pair/ask") for _ in range(most)]
        assert [answer.status_code for answer in answers] == [200] * (most - 1) + [429]
        assert answers[-1].headers["Retry-After"] == "20"
        assert "Wait 20 seconds, then try again." in answers[-1].get_data(as_text=True)
        assert len(station.codes) == most
        station.clock.advance(20)
        assert visitor.send("/pair/ask").status_code == 200


def test_a_person_who_leafs_through_pages_is_never_stopped():
    with opened_station() as station:
        client = station.client()
        for _ in range(60):
            assert client.get("/log").status_code == 200
        assert client.get("/log").status_code == 429
        assert client.get("/").status_code == 200
        station.clock.advance(2)
        assert client.get("/log").status_code == 200
