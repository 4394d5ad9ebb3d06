"""Errands: a wish from one bench to another, taken by that one once, answered once, or expired after an hour.

An errand is taken before it is acted on. A station that was restarted in between does not know whether it had acted:
it does not act again.
"""

from __future__ import annotations

from datetime import timedelta
from typing import Final

from sqlalchemy import Connection, Row, and_, func, or_, select, update
from sqlalchemy.dialects.postgresql import insert

from station.benches.tables import errand
from station.core.clocks import ClockKind
from station.neighbours import Errand, ErrandState
from station.texts import t

LIVES: Final = timedelta(hours=1)
SHOWN: Final = timedelta(hours=2)
MANY: Final = 20
_AGO: Final = func.clock_timestamp() - errand.c.asked
_KNOWN: Final = errand.c.clock.in_([kind.name for kind in ClockKind])
"""What a newer version asks for in words of its own is left to expire."""


def ask(db: Connection, from_bench: int, wish: Errand) -> None:
    """Put a wish there; the same one twice is one."""
    new = insert(errand).values(
        id=wish.key,
        from_bench=from_bench,
        to_bench=wish.to_bench,
        number=wish.number,
        clock=wish.clock.name,
        by=wish.by,
        asked=func.clock_timestamp(),
        state=ErrandState.ASKED.name,
        words="",
    )
    db.execute(new.on_conflict_do_nothing(index_elements=[errand.c.id]))


def expire(db: Connection) -> None:
    """End what nobody has taken, or answered, within the hour."""
    for state, words in (
        (ErrandState.ASKED, t("That bench has not fetched it within an hour. If its alarm still sounds, go there.")),
        (ErrandState.TAKEN, t("That bench fetched it, but did not answer within an hour. Look there.")),
    ):
        old = and_(errand.c.state == state.name, _AGO > LIVES)
        db.execute(update(errand).where(old).values(state=ErrandState.EXPIRED.name, words=words))


def take(db: Connection, bench: int, run: str) -> tuple[Errand, ...]:
    """Take all errands to this bench that are open, those included that this `run` has taken before, oldest first.

    Also those that an earlier run took and never answered: they come in state TAKEN, the others as ASKED.
    """
    fresh = and_(
        errand.c.to_bench == bench,
        _KNOWN,
        or_(
            and_(errand.c.state == ErrandState.ASKED.name, _AGO <= LIVES),
            and_(errand.c.state == ErrandState.TAKEN.name, errand.c.taken_by == run),
        ),
    )
    left = and_(errand.c.to_bench == bench, errand.c.state == ErrandState.TAKEN.name, errand.c.taken_by != run)
    orphans = [_errand(row, ErrandState.TAKEN) for row in db.execute(select(errand).where(left).limit(MANY))]
    some = select(errand.c.id).where(fresh).order_by(errand.c.asked).limit(MANY).with_for_update()
    ids = list(db.execute(some).scalars())
    mine = update(errand).where(errand.c.id.in_(ids)).values(state=ErrandState.TAKEN.name, taken_by=run)
    db.execute(mine)
    rows = db.execute(select(errand).where(errand.c.id.in_(ids)).order_by(errand.c.asked))
    return (*orphans, *(_errand(row, ErrandState.ASKED) for row in rows))


def answer(db: Connection, key: str, state: ErrandState, words: str) -> None:
    """Answer a taken errand; one that is answered already keeps its answer."""
    taken = and_(errand.c.id == key, errand.c.state == ErrandState.TAKEN.name)
    db.execute(update(errand).where(taken).values(state=state.name, words=words))


def asked_by(db: Connection, bench: int) -> tuple[Errand, ...]:
    """What this bench has asked of others lately, newest first, with what came of it."""
    mine = select(errand).where(errand.c.from_bench == bench, _AGO < SHOWN).order_by(errand.c.asked.desc())
    return tuple(_errand(row, ErrandState[row.state]) for row in db.execute(mine.limit(MANY)))


def _errand(row: Row[tuple[object, ...]], state: ErrandState) -> Errand:
    return Errand(row.id, row.to_bench, row.number, ClockKind[row.clock], row.by, state, row.words)
