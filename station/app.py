"""The composition root: make the real things, join them, close them in reverse order. Nothing else happens here."""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from station import __version__
from station.board import Board
from station.calendar_desk import CalendarDesk
from station.climate.watch import ClimateWatch
from station.config import Settings
from station.core.cues import Cue
from station.core.effects import Say
from station.core.events import Entry
from station.core.moment import Moment
from station.core.snapshot import Banner, BannerKind
from station.cue_stream import CueStream
from station.desk import Desk, Tools
from station.doorway import address, announced_in_log, own_names, session_key
from station.export_desk.fitting import paper_desk
from station.housekeeping import housekeeping
from station.inbox import Inbox
from station.joints import asking, in_hand, newest_check, no_survey, workplace_now
from station.judge_desk import JudgeDesk
from station.learning_desk import LearningDesk
from station.library import Library
from station.logbook import Logbook
from station.loop import Loop
from station.mesh.survey import survey
from station.mold_record import MoldRecord
from station.notices import Notices
from station.overview.joining import joined
from station.overview.sources import Fitted, Program, Running
from station.phone.app import Web, create_app
from station.phone.doorkeeper import FILE as DEVICES
from station.phone.doorkeeper import Doorkeeper
from station.phone.server import serving
from station.phone.stream import Streams
from station.phone.tls import context_of
from station.photo_desk import PhotoDesk, PhotoTools, taking
from station.ports import TellableClock
from station.push_desk import PushDesk, PushTools
from station.record_desk import RecordDesk, RecordTools
from station.scale.checks import Checks
from station.scale.finding.profiles import Profiles
from station.scale.link import ScaleLink
from station.sharing import Sharing, exchanging
from station.sheet_desk import SheetDesk
from station.signals.panel import Panel
from station.starts import Safe
from station.store.archive import Archive
from station.store.backup.contents import RECORD
from station.store.backup.shelf import shelf_of
from station.store.ledger import SqlLedger
from station.store.pen import PATIENCE_S
from station.store.photos import FOLDER as PHOTOS
from station.store.scribe import Scribe
from station.store.walker import Walker
from station.support.last_lines import last_lines
from station.texts import N_, t
from station.watchdog.pulse import BENCH_SILENCE_S, Pulse

log = logging.getLogger("tarebell")

LOCK_STEP_PATIENCE_S = 60.0


@dataclass(frozen=True, slots=True)
class Station:
    """A joined station: its loop to run, its doors, and where its page is."""

    loop: Loop
    inbox: Inbox
    board: Board
    library: Library
    archive: Archive
    record: RecordDesk
    panel: Panel
    door: Doorkeeper
    cues: CueStream
    url: str
    pulses: tuple[Pulse, ...]


@contextmanager
def assembled(
    settings: Settings,
    clock: TellableClock,
    *,
    pin_factory: Any = None,
    account: Callable[[Entry | Say, Moment], None] | None = None,
    announce: Callable[[str], None] | None = None,
    ticks: bool = True,
    safe: Safe | None = None,
    ledger: Callable[..., SqlLedger] = SqlLedger,
    reading: Callable[[int], object] = lambda _: None,
) -> Iterator[Station]:
    """A whole station; with `safe` one that leaves off what the bench can do without. `reading`: of `Loop.start`.

    Raises SettingsError or Fault, each a sentence, when it cannot be made.
    """
    folder, inbox, board = settings.state_dir, Inbox(clock), Board()
    sheets = SheetDesk(settings.sheets, folder)
    sharing = None if settings.shared is None else Sharing(settings.shared, settings.name, clock)
    with ExitStack() as stack:
        lines = stack.enter_context(last_lines())
        shelf = shelf_of(settings, __version__, walker := Walker())
        scribe = stack.enter_context(
            Scribe(
                folder,
                shelf,
                before_change=lambda: shelf.make(clock.now(), t("before the record changed its form")),
                # In lock step nobody waits in earnest, the clock may leap while something is written, and the same
                # seed must give the same cues: so no write counts as slow.
                ticks=(lambda: clock.now().boot_s) if ticks else (lambda: 0.0),
                patience_s=PATIENCE_S if ticks else LOCK_STEP_PATIENCE_S,
                make=ledger,
            )
        )
        archive = stack.enter_context(Archive(folder / RECORD))
        fitted = settings.signals if safe is None else replace(settings.signals, speech=False)

        def announced(code: str) -> None:
            (announce or announced_in_log)(code)
            panel.say_code(code)

        door = stack.enter_context(Doorkeeper(clock, announced, folder / DEVICES))
        messages = PushDesk(settings.push, folder, clock)
        panel = stack.enter_context(
            Panel(
                fitted, inbox.ask, clock, pin_factory, door.begin_anew, quiet=messages.quiet,
                numbers=settings.guidance.numbers,
            )
        )  # fmt: skip
        notices = Notices()
        notices.put("signals", BannerKind.SIGNALS, panel.note)
        notices.put("safe mode", BannerKind.SAFE_MODE, "" if safe is None else safe.words.said())

        def news() -> tuple[Banner, ...]:
            return notices.all() if sharing is None else (*notices.all(), *sharing.banners())

        cues = CueStream(panel, clock)
        loop = Loop(
            clock=clock,
            ledger=scribe,
            signals=cues,
            inbox=inbox,
            board=board,
            card=settings.scale.card,
            version=__version__,
            news=news,
            lane=None if sharing is None else sharing.lane,
            leading=settings.guidance.leading,
            account=account,
            ticks=ticks,
        )
        loop.start(reading)
        watch = ClimateWatch(settings.climate, settings.temperature_c, inbox, clock)
        checks, profiles = Checks(folder), Profiles(folder)
        place_now = workplace_now(settings, checks, profiles, watch.now, clock)
        ask = asking(inbox)
        library = Library(sheets.sheets, archive, place_now, loop.standing)
        streams = Streams(board, lambda: clock.now().boot_s)
        link = ScaleLink(settings.scale, inbox, clock, profiles=profiles, pouring=lambda: in_hand(board))
        desk = Desk(
            Tools(settings.scale, link, clock, profiles, checks, lambda: in_hand(board), lambda: watch.now().celsius)
        )
        record = RecordDesk(
            RecordTools(settings.backup, scribe, shelf, clock, inbox, notices, loop.standing, board.latest, walker)
        )
        record.tell_damage()
        port = settings.web.port
        overview = joined(
            Running(
                settings=settings,
                board=board,
                clock=clock,
                record=record,
                climate=watch,
                benches=sharing if safe is None else None,
                check=lambda: newest_check(checks, profiles, settings.scale),
                phones=door.paired,
                messages=messages if safe is None else None,
                fitted=Fitted(panel.note, panel.speaks),
                program=Program(__version__, clock.now(), "" if safe is None else safe.words.said()),
            ),
            port=lambda: port,
            sound=lambda: panel.cue(Cue.ACKNOWLEDGED, t("This is a test.")),
            checks=checks,
            lines=lines.lines,
        )
        web = Web(
            board=board,
            ask=ask,
            shelf=library,
            log=Logbook(archive),
            learning=LearningDesk(archive, sheets.sheets, place_now, loop.standing),
            door=door,
            clock=clock,
            streams=streams,
            names=own_names(settings.name),
            secret=session_key(folder),
            station=settings.name,
            desk=desk,
            climate=watch,
            survey=survey if safe is None else no_survey,
            stock=library,
            sheets=sheets,
            record=record,
            benches=sharing if safe is None else None,
            overview=overview,
            molds=sheets,
            mold_book=MoldRecord(archive, loop.standing),
            look=settings.web.look,
            card=settings.scale.card,
            push=messages if safe is None else None,
            calendar=CalendarDesk(folder, clock, loop.standing, settings.name),
            facts=Logbook(archive),
            judging=JudgeDesk(archive, ask),
            paper=paper_desk(settings, archive, board, lambda: port),
            photos=PhotoDesk(PhotoTools(folder / PHOTOS, archive, taking(safe=safe is not None), ask, board.latest)),
        )
        tell = partial(notices.put, "push", BannerKind.PUSH, ask=t("See why"))
        push_tools = PushTools(scribe, shelf, archive, loop.standing, board.latest, settings.name, tell)
        page, tls = create_app(web), context_of(settings.web)
        port = stack.enter_context(serving(page, settings.web.host, settings.web.port, streams.end, tls=tls))
        chores = (door.keep_or_say, record.daily_check, record.daily_backup, record.check_space)
        stack.enter_context(housekeeping(inbox.end, *chores, lambda: messages.look_for_backup(push_tools)))
        stack.callback(walker.end)  # else the end would wait for a check that may take minutes
        if safe is None:
            stack.enter_context(messages.sending(push_tools))
        if sharing is not None and safe is None:
            stack.enter_context(
                exchanging(sharing, clock, state_dir=folder, record=archive.place, seen=board.latest, hand=inbox.ask)
            )
        stack.enter_context(watch)
        stack.enter_context(link)
        stack.callback(desk.close)
        pulses = (
            Pulse(N_("the bench loop"), lambda: loop.turns, lambda: BENCH_SILENCE_S),
            Pulse(N_("the scale's thread"), lambda: link.progress, lambda: link.silence_s),
        )
        yield Station(
            loop, inbox, board, library, archive, record, panel, door, cues, address(settings.web, port), pulses
        )
