"""Patterns: what must not be confused is not alike."""

from __future__ import annotations

from itertools import combinations

import pytest

from station.core.cues import Cue, Urgency
from station.signals.patterns import ALARMS, CUES, DOOR, REMINDER_PULSES, Pattern, length_s

SHORT_AT_MOST_S, LONG_AT_LEAST_S = 0.15, 0.4

SAME_MEANING = [{Cue.NEAR, Cue.GO_ON, Cue.READY}, {Cue.TARED, Cue.CUP_KNOWN}]
"""Cues that may sound alike, because whoever hears one does the same after each."""


def shape(pattern: Pattern) -> str:
    """S for each short and L for each long pulse; anything between is neither."""
    return "".join("S" if on <= SHORT_AT_MOST_S else "L" if on >= LONG_AT_LEAST_S else "?" for on, _ in pattern)


def test_every_cue_and_every_alarm_has_a_pattern() -> None:
    assert set(CUES) == set(Cue)
    assert set(ALARMS) == set(Urgency)
    assert [urgency for urgency, pattern in ALARMS.items() if not pattern] == [Urgency.CALM]
    assert [cue for cue, pattern in CUES.items() if not pattern] == []


@pytest.mark.parametrize("what", [*Cue, Urgency.FIRST, Urgency.STRONG])
def test_every_pulse_is_clearly_short_or_clearly_long_and_ends_in_silence(what: Cue | Urgency) -> None:
    pattern = CUES[what] if isinstance(what, Cue) else ALARMS[what]
    assert "?" not in shape(pattern)
    assert all(on >= 0.05 and off >= 0.05 for on, off in pattern)


def test_no_two_cues_sound_alike_unless_they_mean_the_same() -> None:
    alike = [{a, b} for a, b in combinations(Cue, 2) if shape(CUES[a]) == shape(CUES[b])]
    assert [pair for pair in alike if not any(pair <= same for same in SAME_MEANING)] == []


def test_the_door_sounds_like_no_cue_of_the_bench_and_no_alarm() -> None:
    assert shape(DOOR) not in {shape(pattern) for pattern in (*CUES.values(), *ALARMS.values())}
    assert not shape(DOOR).startswith("SSS")


def test_stop_accepted_over_kept_in_memory_lost_and_the_alarms_differ_in_number_or_length_of_pulses() -> None:
    fateful = [CUES[c] for c in (Cue.ACCEPTED, Cue.STOP, Cue.OVER, Cue.KEPT_IN_MEMORY, Cue.LOST)]
    shapes = [shape(p) for p in (*fateful, ALARMS[Urgency.FIRST], ALARMS[Urgency.STRONG])]
    assert len(set(shapes)) == len(shapes)


def test_no_cue_is_the_three_short_pulses_of_an_alarm() -> None:
    alarm = {shape(ALARMS[u])[:REMINDER_PULSES] for u in (Urgency.FIRST, Urgency.STRONG)}
    assert alarm == {"SSS"}
    assert [c for c in Cue if shape(CUES[c]) in alarm] == []


def groups(pattern: Pattern) -> list[int]:
    """Pulses that belong together by ear: a rest twice as long as the shortest one parts them."""
    shortest = min(off for _, off in pattern)
    counts = [0]
    for _, off in pattern:
        counts[-1] += 1
        if off >= 2 * shortest:
            counts.append(0)
    return [count for count in counts if count]


def test_alarms_come_in_the_numbers_of_pulses_that_an_open_standard_gives_to_urgency() -> None:
    # IEC 60601-1-8, tables 3 and 4: 3 pulses for medium, 10 as 3 + 2 repeated for high priority.
    # No conformity is claimed.
    assert groups(ALARMS[Urgency.FIRST]) == [3]
    assert groups(ALARMS[Urgency.STRONG]) == [3, 2, 3, 2]


def test_pulses_of_the_alarms_last_as_long_as_the_standard_lets_them() -> None:
    # IEC 60601-1-8, from memory: high priority 75 to 200 ms, medium 125 to 250 ms.
    assert all(0.125 <= on <= 0.25 for on, _ in ALARMS[Urgency.FIRST])
    assert all(0.075 <= on <= 0.2 for on, _ in ALARMS[Urgency.STRONG])


def test_an_alarm_comes_again_within_ten_seconds_and_is_denser_after_the_first_minute() -> None:
    def share(urgency: Urgency) -> float:
        return sum(on for on, _ in ALARMS[urgency]) / length_s(ALARMS[urgency])

    assert length_s(ALARMS[Urgency.FIRST]) <= 10
    assert length_s(ALARMS[Urgency.STRONG]) <= 10
    assert share(Urgency.STRONG) > 2 * share(Urgency.FIRST)


def test_an_alarm_leaves_room_to_speak() -> None:
    # Common practice, no source: a sound without pauses is switched off by people, not attended to.
    assert all(pattern[-1][1] >= 1.5 for urgency, pattern in ALARMS.items() if urgency is not Urgency.CALM)
