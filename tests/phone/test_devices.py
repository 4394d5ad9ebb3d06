"""Paired devices: kept over a restart as digests alone, forgotten, renamed and locked out, whatever the disk does."""

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from station.errors import LedgerFault, Refused
from station.phone.devices import (
    FORGOTTEN_AFTER_S,
    MOST,
    NAME_LIMIT,
    Device,
    Stamp,
    as_text,
    clean_name,
    digest_of,
    from_text,
)
from station.phone.doorkeeper import Doorkeeper
from station.testing import ScriptedClock


@pytest.fixture
def clock():
    return ScriptedClock()


@pytest.fixture
def file(tmp_path):
    return tmp_path / "state" / "devices.json"


def let_in(door, codes, name="phone"):
    door.ask()
    return door.open(codes[-1], name)


def made(clock, file):
    codes = []
    return Doorkeeper(clock, codes.append, file), codes


def test_a_pairing_survives_a_restart_and_its_key_is_nowhere_on_the_disk(clock, file):
    door, codes = made(clock, file)
    key = let_in(door, codes)
    text = file.read_text()
    assert key not in text
    assert digest_of(key) in text
    assert file.stat().st_mode & 0o777 == 0o600
    assert [one.name for one in file.parent.iterdir()] == [file.name]
    again, _ = made(clock, file)
    assert again.greet(key).name == "phone"
    assert again.greet(digest_of(key)) is None


def test_what_a_power_cut_left_with_open_rights_does_not_lend_them_to_the_list(clock, file):
    file.parent.mkdir()
    left = file.with_name(".devices.json.new")
    left.write_text("half")
    left.chmod(0o666)
    door, codes = made(clock, file)
    let_in(door, codes)
    assert file.stat().st_mode & 0o777 == 0o600


def test_looking_writes_nothing_and_the_chore_writes_only_what_has_changed(clock, file):
    door, codes = made(clock, file)
    key = let_in(door, codes)
    first = file.stat().st_ino
    clock.advance(3600)
    assert door.greet(key).seen.wall == clock.now().wall
    assert file.stat().st_ino == first
    door.keep()
    kept = file.stat().st_ino
    assert kept != first
    door.keep()
    assert file.stat().st_ino == kept
    again, _ = made(clock, file)
    assert again.paired()[0].seen.wall == clock.now().wall


def test_one_is_locked_out_the_others_stay_and_a_name_changes(clock, file):
    door, codes = made(clock, file)
    keys = [let_in(door, codes, name) for name in ("one", "two", "three")]
    two = door.greet(keys[1])
    door.rename(two.id, "  the \n tablet ")
    door.lock_out(door.greet(keys[0]).id)
    assert [door.knows(key) for key in keys] == [False, True, True]
    assert [one.name for one in made(clock, file)[0].paired()] == ["the tablet", "three"]
    door.lock_out_others(two.id)
    assert [made(clock, file)[0].knows(key) for key in keys] == [False, True, False]


def test_a_device_that_is_not_there_or_a_name_that_is_none_is_told_as_such(clock, file):
    door, codes = made(clock, file)
    let_in(door, codes)
    for touch in (lambda: door.lock_out("nobody"), lambda: door.rename("nobody", "x")):
        with pytest.raises(Refused, match="not paired any more"):
            touch()
    with pytest.raises(Refused, match="needs a name"):
        door.rename(door.paired()[0].id, " \x00\n ")


def test_who_holds_the_button_ends_every_pairing_and_gets_a_new_code_even_while_the_door_is_shut(clock, file):
    door, codes = made(clock, file)
    key = let_in(door, codes)
    door.ask()
    before = codes[-1]
    for _ in range(5):
        with pytest.raises(Refused):
            door.open("x", "guesser")
    door.begin_anew()
    assert not door.knows(key)
    assert made(clock, file)[0].paired() == ()
    assert door.waiting() == codes[-1] != before
    assert door.knows(door.open(codes[-1], "phone"))


def test_a_disk_that_takes_nothing_lets_devices_in_and_out_until_the_next_start_and_says_so(clock, file, caplog):
    door, codes = made(clock, file)
    lost = let_in(door, codes)
    aside = file.parent.rename(file.parent.with_name("aside"))
    file.parent.write_text("no folder now")
    assert door.knows(let_in(door, codes, "tablet"))
    assert "devices not written down" in caplog.text
    with pytest.raises(LedgerFault, match="cannot be written"):
        door.lock_out(door.greet(lost).id)
    assert not door.knows(lost)
    file.parent.unlink()
    aside.rename(file.parent)
    assert made(clock, file)[0].knows(lost)
    door.keep_or_say()
    assert [one.name for one in made(clock, file)[0].paired()] == ["tablet"]


@pytest.mark.parametrize("text", ["", "{", "[]", '{"devices": [{}]}', '{"devices": [7]}', '{"devices": 7}', "\x00"])
def test_a_list_that_cannot_be_read_lets_nobody_in_and_stops_nothing(clock, file, caplog, text):
    file.parent.mkdir()
    file.write_text(text)
    door, codes = made(clock, file)
    assert door.paired() == ()
    assert "cannot be read" in caplog.text
    let_in(door, codes)
    assert len(made(clock, file)[0].paired()) == 1


def test_so_many_devices_and_no_more_and_those_forgotten_make_room(clock):
    door, codes = made(clock, None)
    for _ in range(MOST):
        let_in(door, codes)
    with pytest.raises(Refused, match="no more are kept"):
        let_in(door, codes)
    clock.advance(FORGOTTEN_AFTER_S)
    key = let_in(door, codes)
    assert [one.digest for one in door.paired()] == [digest_of(key)]


stamps = st.builds(
    Stamp,
    st.datetimes(timezones=st.just(ScriptedClock().now().wall.tzinfo)).filter(lambda wall: wall.year < 9000),
    st.booleans(),
)
names = st.text(max_size=60)


@given(st.lists(st.builds(Device, names, names, names, stamps, stamps), max_size=5).map(tuple))
def test_a_list_is_read_back_as_it_was_written(devices):
    assert from_text(as_text(devices)) == devices


@given(names)
def test_a_name_is_one_short_printable_line(typed):
    clean = clean_name(typed)
    assert len(clean) <= NAME_LIMIT
    assert clean == "" or clean.isprintable()
    assert clean_name(clean) == clean


def test_a_clock_set_back_or_not_trusted_forgets_nobody(clock):
    door, codes = made(clock, None)
    key = let_in(door, codes)
    clock.step_wall(-timedelta(days=4000).total_seconds())
    assert door.knows(key)
    clock.step_wall(timedelta(days=8000).total_seconds())
    clock.trust(False)
    assert door.knows(key)
