"""The findings in a terminal and for programs."""

import json
import re

from station.doctor.finding import Looked, Verdict, failed, look, passed
from station.doctor.said import as_dict, in_short, lines_of

LONG = "One sentence that is much too long for a single line of a terminal, which is why it goes on in the next one. "
SHORT = Looked("python", "Python", (passed("Python 3.11.2."),))
TWO = Looked("disk", "Disk", (look(LONG, LONG), failed("Wrong:\nline one\nline two", "Do it.")))


def test_a_good_finding_is_one_line():
    assert lines_of(SHORT) == ["PASS  Python    Python 3.11.2."]


def test_no_line_is_wider_than_the_terminal_and_texts_begin_in_one_column():
    for width in (60, 80):
        lines = lines_of(TWO, width=width)
        assert max(map(len, lines)) <= width
        column = lines_of(SHORT)[0].index("Python 3")
        assert {len(re.match(r"(LOOK|FAIL)?  (Disk)? *(→ )?", line)[0]) - column for line in lines} <= {0, 2}


def test_the_title_stands_once_and_each_verdict_has_its_word_and_cure():
    lines = lines_of(TWO)
    assert sum("Disk" in line for line in lines) == 1
    assert [line[:4] for line in lines if line[:4].strip()] == ["LOOK", "FAIL"]
    assert sum("→" in line for line in lines) == 2
    assert "".join(lines).count("line one") == 1


def test_a_colour_changes_no_column():
    painted = lines_of(TWO, lambda verdict, word: f"\x1b[31m{word}\x1b[0m")
    assert [re.sub(r"\x1b\[\d+m", "", line) for line in painted] == lines_of(TWO)


def test_an_address_stays_in_one_piece():
    url = "http://a-name-that-is-longer-than-the-column-of-a-narrow-terminal.local:8060/"
    assert any(url in line for line in lines_of(Looked("page", "Page", (passed(f"It is {url}"),)), width=60))


def test_all_in_all_is_said_in_a_sentence():
    assert in_short([SHORT]) == "Nothing was found to be wrong."
    assert in_short([SHORT, TWO]) == "1 thing is wrong. 1 thing needs a look."
    assert in_short([TWO, TWO]) == "2 things are wrong. 2 things need a look."


def test_programs_get_lasting_keys():
    told = json.loads(json.dumps(as_dict([SHORT, TWO], "1.2")))
    assert (told["version"], told["verdict"]) == ("1.2", "fail")
    assert [one["check"] for one in told["checks"]] == ["python", "disk"]
    assert told["checks"][0] == {
        "check": "python",
        "title": "Python",
        "findings": [{"verdict": "pass", "told": "Python 3.11.2.", "cure": ""}],
    }
    assert [one["verdict"] for one in told["checks"][1]["findings"]] == ["look", "fail"]
    assert {verdict.value for verdict in Verdict} == {"pass", "look", "fail"}
