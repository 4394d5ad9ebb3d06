"""The kept log: the program's own words and numbers, and no text that it was given."""

import logging

import pytest

from station.support.last_lines import MOST_LENGTH, MOST_LINES, LastLines

SECRET = "hunter-marmot"


@pytest.fixture
def kept():
    lines = LastLines()
    log = logging.getLogger("tarebell.made-up")
    log.propagate = False
    log.setLevel(logging.DEBUG)
    log.addHandler(lines)
    yield log, lines
    log.removeHandler(lines)
    log.propagate = True


def test_words_of_the_program_and_numbers_stay_and_texts_become_dots(kept):
    log, lines = kept
    log.warning("pairing code %s (%d left) by=%r after_s=%.1f", SECRET, 3, SECRET, 2.25)
    (line,) = lines.lines()
    assert line.endswith("WARNING tarebell.made-up pairing code … (3 left) by='…' after_s=2.2")


def test_an_error_is_told_by_its_kind_and_place_not_by_its_words(kept):
    log, lines = kept
    try:
        raise ValueError(SECRET)
    except ValueError as error:
        log.error("no copy why=%s", error, exc_info=True)
    (line,) = lines.lines()
    assert "no copy why=ValueError [ValueError: test_last_lines.py:" in line
    assert SECRET not in line


def test_of_a_library_only_its_name_is_told(kept):
    _, lines = kept
    lines.handle(
        logging.makeLogRecord({"name": "made.library", "levelname": "ERROR", "msg": SECRET, "args": (SECRET,)})
    )
    assert lines.lines()[0].endswith("ERROR made.library (said by a library)")


def test_what_cannot_be_formed_is_said_and_breaks_nothing(kept):
    _, lines = kept
    said = {"name": "tarebell.made-up", "levelname": "INFO", "msg": "%d and %d", "args": (SECRET, 1)}
    lines.handle(logging.makeLogRecord(said))
    assert lines.lines() == ("INFO tarebell.made-up (a line that cannot be formed)",)


def test_old_lines_give_way_and_long_ones_are_cut(kept):
    log, lines = kept
    for number in range(MOST_LINES + 5):
        log.info("line number=%d " + "x" * 2 * MOST_LENGTH, number)
    assert len(lines.lines()) == MOST_LINES
    assert "line number=5 " in lines.lines()[0]
    assert {len(line) for line in lines.lines()} == {MOST_LENGTH}


def test_chatter_below_info_is_not_kept(kept):
    log, lines = kept
    log.debug("nothing of interest")
    assert lines.lines() == ()
