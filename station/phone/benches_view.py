"""All benches at one log as plain values for a page: casts at hand with dials, alarms, and wishes on their way."""

from __future__ import annotations

from station.core.at_hand import AlarmAtHand, AtHand, CastAtHand, aged, at_hand
from station.core.moment import Moment, gap_s
from station.core.snapshot import Snapshot
from station.neighbours import OPEN, SILENT_S, Errand, ErrandState, Neighbour, Neighbourhood, SharedCast
from station.phone.wire_clocks import dials
from station.phone.wire_values import Json, named
from station.phone.words import age_text, clock_text, day_text, past_text
from station.texts import t


def benches(hood: Neighbourhood, seen: Snapshot, own_title: str) -> Json:
    """The whole page: this bench first, then the others by their digits."""
    since = _since(hood, seen.at)
    known = {(cast.bench, cast.number) for cast in hood.casts}
    return {
        "bench": hood.bench,
        "benches": [
            _own(hood.bench, own_title, at_hand(seen), seen.at),
            *(_other(one, hood, since, seen.at, known) for one in hood.benches),
        ],
        "casts": [line(cast) for cast in hood.casts],
        "errands": [errand(one) for one in hood.errands],
        "sounding": sounding(hood),
        "trouble": hood.trouble,
        "refused": hood.refused,
        "read": "" if hood.read is None else age_text(since),
        "unread": hood.read is None,
    }


def sounding(hood: Neighbourhood) -> int:
    """How many alarms sound at other benches, as last heard."""
    return sum(len(one.at_hand.alarms) for one in hood.benches)


def line(cast: SharedCast) -> Json:
    """A cast of another bench in a list."""
    return {
        "bench": cast.bench,
        "number": cast.number,
        "begun": _day(cast),
        "material": cast.material,
        "mold": cast.mold,
        "total": cast.total.text(),
        "stage": t(cast.stage),
        "page": f"/benches/{cast.bench}/{cast.number}",
    }


def _day(cast: SharedCast) -> str:
    day = day_text(cast.begun)
    return day if cast.sure else t("{day} (clock not set)", day=day)


def errand(one: Errand) -> Json:
    """A wish to another bench: what was asked, how far it has come, and the answer."""
    return {
        "to_bench": one.to_bench,
        "number": one.number,
        "clock": named(one.clock),
        "state": named(one.state),
        "open": one.state in OPEN,
        "good": one.state is ErrandState.DONE,
        "words": one.words,
    }


def _since(hood: Neighbourhood, now: Moment) -> float:
    gap = None if hood.read is None else gap_s(hood.read, now)
    return 0.0 if gap is None else max(0.0, gap)


def _own(bench: int, title: str, value: AtHand, now: Moment) -> Json:
    known = {(bench, cast.number) for cast in value.casts}
    return {
        "bench": bench,
        "title": title,
        "own": True,
        "silent": False,
        "heard": t("this bench"),
        "unclear": "",
        "casts": [_cast(cast, bench, now, known, "/log/") for cast in value.casts],
        "alarms": [_alarm(alarm, ()) for alarm in value.alarms],
    }


def _other(one: Neighbour, hood: Neighbourhood, since: float, now: Moment, known: set[tuple[int, int]]) -> Json:
    age = one.age_s + since
    value = aged(one.at_hand, age, now.wall)
    silent = age > SILENT_S
    mine = [errand for errand in hood.errands if errand.to_bench == one.bench]
    return {
        "bench": one.bench,
        "title": one.title,
        "own": False,
        "silent": silent,
        "heard": t("not heard from for {age}: its clocks run on from what it said last", age=past_text(age))
        if silent
        else "",
        "unclear": one.unclear,
        "casts": [_cast(cast, one.bench, now, known, f"/benches/{one.bench}/") for cast in value.casts],
        "alarms": [_alarm(alarm, mine) for alarm in value.alarms],
    }


def _cast(cast: CastAtHand, bench: int, now: Moment, known: set[tuple[int, int]], pages: str) -> Json:
    return {
        "number": cast.number,
        "material": cast.material,
        "mold": cast.mold,
        "words": t("At the bench: {words}", words=cast.words) if cast.at_bench else cast.words,
        "demolded": cast.demolded,
        "dials": dials(cast.dials, now),
        "page": f"{pages}{cast.number}" if (bench, cast.number) in known else "",
    }


def _alarm(alarm: AlarmAtHand, errands: list[Errand] | tuple[()]) -> Json:
    # One that was done is shown as done until that bench tells itself that it is silent.
    on_its_way = OPEN | {ErrandState.DONE}
    about = (alarm.number, alarm.clock)
    mine = next((e for e in errands if (e.number, e.clock) == about and e.state in on_its_way), None)
    return {
        "number": alarm.number,
        "clock": named(alarm.clock),
        "since": "" if alarm.since_s is None else t("for {since_s}", since_s=past_text(alarm.since_s)),
        "strong": alarm.strong,
        "words": alarm.words,
        "on_its_way": "" if mine is None else t(mine.state.value),
    }


def told_here(hood: Neighbourhood, now: Moment) -> tuple[str, ...]:
    """Lines for the page of this bench: why the shared log takes nothing, is away, and what sounds elsewhere."""
    since = _since(hood, now)
    found = [hood.refused] if hood.refused else []
    if hood.trouble and (hood.read is None or since > SILENT_S):
        last = "" if hood.read is None else t(" Read last at {wall}.", wall=clock_text(hood.read.wall, now.wall))
        found.append(f"{hood.trouble}{last}")
    for one in hood.benches:
        found += [
            t("Bench {bench}, {one}: {words}", bench=one.bench, one=one.title, words=alarm.words)
            for alarm in one.at_hand.alarms
        ]
    return tuple(found)
