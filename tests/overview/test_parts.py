"""Each part's state in a word and a sentence, from plain values."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from station.climate.state import Seen
from station.computer.health import Health
from station.config import SignalSettings
from station.core.moment import Moment
from station.core.snapshot import ScaleState
from station.core.time_view import GapView, TimeState, TimeView
from station.neighbours import Neighbourhood
from station.overview.bench_parts import LastCheck, climate_part, scale_part, signals_part, time_part
from station.overview.phone_parts import messages_part, phones_part
from station.overview.program_parts import benches_part, heat_part, program_part, supply_part
from station.overview.record_parts import MIB, backups_part, card_part, record_part
from station.phone.push_view import AddressLine, PushView
from station.phone.record_view import BackupLine, RecordView
from station.phone.station_view import Fare, Part, in_all, worst_first
from tests.phone.shown import LIVE

NOW = Moment(86_400.0, "boot-1", datetime(2026, 3, 2, 9, 14, tzinfo=UTC), True)
TODAY = date(2026, 3, 2)
CHECK = LastCheck(date(2026, 2, 20), date(2027, 2, 20), "fit")
AIR = Seen(21.5, "from the temperature sensor", 12.0, 48.0, 12.0, "", (), "")
KNOWN = TimeView(TimeState.HEARD, 3600.0, "", None, ())
GAP = GapView("boot-0", "The station was off: how long?", "", None, True)


def backup(days_ago, sure=True):
    return BackupLine("backup.zip", NOW.wall - timedelta(days=days_ago), sure, 900, 40_000, "daily")


RECORD = RecordView(
    "", "", 0, "", (backup(0.5), backup(20)), "", "All 900 rows.", 900 * MIB, ((TODAY, 3 * MIB),), NOW.wall
)


@pytest.mark.parametrize(
    ("view", "check", "fare", "says"),
    [
        (LIVE, CHECK, Fare.WELL, "Last checked on 2026-02-20: fit."),
        (LIVE, None, Fare.LOOK, "never checked"),
        (LIVE, replace(CHECK, due=TODAY), Fare.WELL, "fit"),
        (LIVE, replace(CHECK, due=date(2026, 3, 1)), Fare.LOOK, "was due on 2026-03-01"),
        (LIVE, replace(CHECK, verdict="not fit"), Fare.LOOK, "not fit"),
        (replace(LIVE, state=ScaleState.STALE), CHECK, Fare.LOOK, "said nothing"),
        (replace(LIVE, state=ScaleState.LOST, words="The cable is out."), CHECK, Fare.WRONG, "The cable is out."),
        (replace(LIVE, state=ScaleState.TROUBLE), CHECK, Fare.WRONG, "not read"),
    ],
)
def test_the_scale(view, check, fare, says):
    part = scale_part(view, check, TODAY)
    assert part.fare is fare
    assert says in part.words


def test_a_check_is_not_called_overdue_while_nobody_knows_the_day():
    assert scale_part(LIVE, replace(CHECK, due=date(2020, 1, 1)), None).fare is Fare.WELL


@pytest.mark.parametrize(
    ("view", "fare"),
    [
        (KNOWN, Fare.WELL),
        (replace(KNOWN, state=TimeState.SET, by="page (Anna's phone)"), Fare.WELL),
        (replace(KNOWN, state=TimeState.UNKNOWN), Fare.LOOK),
        (replace(KNOWN, gaps=(GAP,)), Fare.LOOK),
        (replace(KNOWN, gaps=(replace(GAP, open=False, told_s=60.0),)), Fare.WELL),
        (None, Fare.UNKNOWN),
    ],
)
def test_the_time(view, fare):
    part = time_part(view)
    assert part.fare is fare
    assert "Anna" not in part.words


@pytest.mark.parametrize(
    ("seen", "fare", "says"),
    [
        (AIR, Fare.WELL, "21.5 °C, 48 % relative humidity."),
        (replace(AIR, celsius=-3.0, humidity_percent=None), Fare.WELL, "−3.0 °C."),
        (replace(AIR, celsius=None, where="typed on page (Anna's phone)"), Fare.LOOK, "not known"),
        (replace(AIR, troubles=("The sensor does not answer.",)), Fare.LOOK, "does not answer"),
        (replace(AIR, old="It is old."), Fare.LOOK, "It is old."),
    ],
)
def test_the_climate(seen, fare, says):
    part = climate_part(seen)
    assert part.fare is fare
    assert says in part.words
    assert "Anna" not in part.words


def test_signals_are_listed_and_simulated_ones_or_a_missing_buzzer_need_a_look():
    part = signals_part(SignalSettings(), "", True)
    assert part.fare is Fare.WELL
    assert "buzzer, 3 lamps, pedal, button, speech." in part.words
    assert signals_part(SignalSettings(), "There are no pins here.", False) == Part(
        "Signals", Fare.LOOK, "There are no pins here.", "/station/wiring"
    )
    assert signals_part(SignalSettings(buzzer=None), "", False).fare is Fare.LOOK
    bare = SignalSettings(buzzer=None, lamp_ready=None, lamp_busy=None, lamp_attention=None, pedal=None, button=None)
    assert signals_part(bare, "", False).words.startswith("Nothing is fitted.")


@pytest.mark.parametrize(
    ("view", "fare", "says"),
    [
        (RECORD, Fare.WELL, "All 900 rows."),
        (replace(RECORD, unsaved=1), Fare.WRONG, "1 entry is kept in memory"),
        (replace(RECORD, damage="Row 7 is spoilt."), Fare.WRONG, "Row 7"),
        (replace(RECORD, restored="By Anna."), Fare.LOOK, "restored"),
    ],
)
def test_the_record(view, fare, says):
    part = record_part(view)
    assert part.fare is fare
    assert says in part.words
    assert "Anna" not in part.words


@pytest.mark.parametrize(
    ("view", "fare"),
    [
        (RECORD, Fare.WELL),
        (replace(RECORD, left_at=None), Fare.LOOK),
        (replace(RECORD, left_at=NOW.wall - timedelta(days=8)), Fare.LOOK),
        (replace(RECORD, backups=()), Fare.OFF),
        (replace(RECORD, backups=(backup(7),)), Fare.LOOK),
        (replace(RECORD, backups=(backup(7, sure=False),)), Fare.WELL),
    ],
)
def test_backups(view, fare):
    assert backups_part(view, NOW).fare is fare


def test_of_a_clock_that_nobody_set_no_backup_is_called_old():
    view = replace(RECORD, backups=(backup(99),), left_at=None)
    assert backups_part(view, replace(NOW, trusted=False)).fare is Fare.WELL


@pytest.mark.parametrize(
    ("free", "fare"), [(900 * MIB, Fare.WELL), (200 * MIB, Fare.WELL), (199 * MIB, Fare.LOOK), (None, Fare.UNKNOWN)]
)
def test_the_card_by_its_free_space(free, fare):
    part = card_part(replace(RECORD, free=free))
    assert part.fare is fare
    assert "3.00 MiB were written today." in part.words


@pytest.mark.parametrize(("celsius", "fare"), [(None, Fare.UNKNOWN), (48.3, Fare.WELL), (80.0, Fare.LOOK)])
def test_the_warmth_of_the_computer(celsius, fare):
    assert heat_part(Health(celsius, None)).fare is fare


@pytest.mark.parametrize(("low", "fare"), [(None, Fare.UNKNOWN), (False, Fare.WELL), (True, Fare.WRONG)])
def test_the_supply(low, fare):
    assert supply_part(Health(None, low)).fare is fare


def test_the_program_tells_its_version_its_age_and_safe_mode():
    started = Moment(82_800.0, "boot-1", NOW.wall, True)
    part = program_part("0.1.0", started, NOW, "")
    assert part.fare is Fare.WELL
    assert "Version 0.1.0, running for 60 min" in part.words
    assert program_part("0.1.0", started, NOW, "Safe mode, because it was asked for.").fare is Fare.LOOK


def test_other_benches():
    hood = Neighbourhood(2, NOW)
    assert benches_part(None).fare is Fare.OFF
    assert benches_part(Neighbourhood(2)).fare is Fare.UNKNOWN
    assert benches_part(hood).words == "0 other benches are at this log. Nothing sounds there."
    assert benches_part(replace(hood, trouble="postgresql://anna:pw@host")).fare is Fare.LOOK
    assert "anna" not in benches_part(replace(hood, trouble="postgresql://anna:pw@host")).words
    assert benches_part(replace(hood, refused="another bench has this digit")).fare is Fare.LOOK


@pytest.mark.parametrize(
    ("count", "fare", "says"),
    [(0, Fare.OFF, "No device"), (1, Fare.WELL, "1 device is"), (3, Fare.WELL, "3 devices are")],
)
def test_phones(count, fare, says):
    part = phones_part(count)
    assert (part.fare, part.page) == (fare, "/devices")
    assert part.words.startswith(says)


GOOD = AddressLine("1", "https …abc", good=NOW.wall)
BAD = AddressLine("2", "https …def", good=NOW.wall - timedelta(days=1), bad=NOW.wall, why="refused")


@pytest.mark.parametrize(
    ("lines", "fare", "says"),
    [
        ((), Fare.OFF, "No address"),
        ((GOOD,), Fare.WELL, "They go to 1 address,"),
        ((AddressLine("3", "never tried"), GOOD), Fare.WELL, "They go to 2 addresses,"),
        ((replace(BAD, good=NOW.wall + timedelta(days=1)),), Fare.WELL, "1 address"),
        ((GOOD, BAD), Fare.LOOK, "1 address was not reached"),
        ((BAD, replace(BAD, good=None)), Fare.LOOK, "2 addresses were not reached"),
    ],
)
def test_messages(lines, fare, says):
    part = messages_part(PushView(lines, frozenset(), None, False, True))
    assert part.fare is fare
    assert says in part.words
    assert "abc" not in part.words


def test_messages_that_are_not_sent_or_cannot_be_read_need_a_look():
    assert messages_part(None).fare is Fare.LOOK
    assert messages_part(PushView((GOOD,), frozenset(), None, False, True, "key=s3cret")).fare is Fare.LOOK
    assert "s3cret" not in messages_part(PushView((GOOD,), frozenset(), None, False, True, "key=s3cret")).words


def test_the_worst_comes_first_and_the_rest_keeps_its_order():
    parts = [
        Part(str(n), fare, "") for n, fare in enumerate([Fare.WELL, Fare.LOOK, Fare.OFF, Fare.WRONG, Fare.UNKNOWN])
    ]
    assert [part.title for part in worst_first(parts)] == ["3", "1", "0", "2", "4"]
    assert in_all(parts) == "2 things need a look: 3, 1."
    assert in_all(parts[:2]) == "1 thing needs a look: 1."
    assert in_all([parts[0], parts[2], parts[4]]) == "All is well."
