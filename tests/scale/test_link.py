"""The thread that owns the port, over real pseudo-terminals and a loopback socket."""

from __future__ import annotations

import contextlib
import errno
import fcntl
import os
import socket
import struct
import threading
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from station.config import ScaleSettings
from station.core.mass import Mass
from station.core.messages import Fact, NoLoad, Reading, ScaleFound, ScaleLost, Stability, Tick, Trouble
from station.core.moment import Moment, gap_s
from station.errors import SettingsError
from station.inbox import End, Inbox
from station.scale.bit7 import FORMATS
from station.scale.families import FAMILIES
from station.scale.link import ScaleLink, newest
from station.simulated.pty_port import PtyPort
from station.simulated.voices import Voice
from tests.scale.hearing import DEADLINE_S, Hearing, linked

LINE = b"ST,+00123.4  g\r\n"


@pytest.fixture
def hearing() -> Hearing:
    return Hearing()


@pytest.fixture
def cable(tmp_path: Path) -> Iterator[PtyPort]:
    with PtyPort(tmp_path / "scale") as port:
        yield port


def test_the_port_is_announced_and_a_reading_arrives_with_its_moment(hearing: Hearing, cable: PtyPort) -> None:
    with linked(cable, hearing):
        assert hearing.until_a(ScaleFound).message == ScaleFound(str(cable.path))
        before = hearing.clock.now()
        got = hearing.until_a(Reading, lambda: cable.emit(LINE))
        assert got.message == Reading(Mass.grams("123.4"), Stability.STABLE)
        assert (gap_s(before, got.at) or -1) >= 0
        assert (gap_s(got.at, hearing.clock.now()) or -1) >= 0


@pytest.mark.parametrize("family", [name for name, spec in FAMILIES.items() if spec.request is None])
def test_every_streaming_family_is_heard_over_a_terminal(hearing: Hearing, cable: PtyPort, family: str) -> None:
    voice = Voice(family)
    with linked(cable, hearing, family):
        got = hearing.until_a(Reading, lambda: cable.emit(voice.line(Decimal("62.4"), True)))
        assert isinstance(got.message, Reading)
        assert got.message.gross == Mass.grams("62.4")


def test_a_line_that_was_waiting_before_the_port_was_opened_is_no_reading(hearing: Hearing, cable: PtyPort) -> None:
    cable.emit(b"ST,+00999.9  g\r\n" * 5)
    with linked(cable, hearing):
        hearing.until_a(ScaleFound)
        hearing.until_a(Reading, lambda: cable.emit(LINE))
    assert hearing.loads() == ["123.4 g"]


def test_a_half_line_is_nothing_until_its_end_comes(hearing: Hearing, cable: PtyPort) -> None:
    with linked(cable, hearing):
        hearing.until_a(Reading, lambda: cable.emit(LINE))
        cable.emit(b"\r\nST,+002")
        cable.emit(b"00.0  g")
        cable.emit(b"\r\n")
        hearing.until(lambda m: m == Reading(Mass.grams(200), Stability.STABLE))
    assert set(hearing.loads()) == {"123.4 g", "200.0 g"}


def test_overload_and_a_load_out_of_one_batch_are_both_told(hearing: Hearing, cable: PtyPort) -> None:
    with linked(cable, hearing):
        hearing.until_a(Reading, lambda: cable.emit(LINE))
        hearing.until(lambda m: m == NoLoad(Trouble.OVERLOAD), lambda: cable.emit(b"OL,+999999.9  g\r\n" + LINE))


def test_of_a_batch_the_last_load_and_the_last_trouble_are_posted_in_their_order() -> None:
    def load(grams: int) -> Reading:
        return Reading(Mass.grams(grams), Stability.STABLE)

    over, error = NoLoad(Trouble.OVERLOAD), NoLoad(Trouble.ERROR)
    assert newest([load(1), over, load(2), error, load(3)]) == [error, load(3)]
    assert newest([load(1), load(2), over]) == [load(2), over]
    assert newest([]) == []


class SlowInbox(Inbox):
    """An inbox whose sender is held up at each load until the gate is open."""

    def __init__(self, clock: object) -> None:
        super().__init__(clock)  # type: ignore[arg-type]
        self.gate, self.held = threading.Event(), threading.Event()

    def post(self, message: Fact, at: Moment | None = None) -> None:
        if isinstance(message, Reading):
            self.held.set()
            assert self.gate.wait(DEADLINE_S)
        super().post(message, at)


def test_after_a_hold_up_the_newest_load_comes_and_the_backlog_does_not(cable: PtyPort) -> None:
    hearing = Hearing()
    slow = SlowInbox(hearing.clock)
    hearing.inbox = slow
    with linked(cable, hearing):
        hearing.until_a(ScaleFound)
        for _ in range(4):  # the first is dropped as a fragment's end, the second makes the length known
            cable.emit(LINE)
        assert slow.held.wait(DEADLINE_S)
        for n in range(100):
            cable.emit(f"US,+{n:07.1f}  g\r\n".encode())
        slow.gate.set()
        hearing.until(lambda m: isinstance(m, Reading) and m.gross == Mass.grams(99))
    assert len(hearing.loads()) < 50


def test_unplugging_is_told_and_plugging_in_again_heals(hearing: Hearing, cable: PtyPort) -> None:
    with linked(cable, hearing):
        hearing.until_a(Reading, lambda: cable.emit(LINE))
        cable.unplug()
        lost = hearing.until_a(ScaleLost).message
        assert isinstance(lost, ScaleLost)
        assert "unplugged" in lost.why
        assert "Check the scale's cable" in lost.why
        cable.plug_in()
        hearing.until_a(ScaleFound)
        hearing.until(
            lambda m: m == Reading(Mass.grams("55.5"), Stability.STABLE), lambda: cable.emit(b"ST,+00055.5  g\r\n")
        )


def test_many_cycles_of_unplugging_leave_no_thread_and_no_descriptor_behind(hearing: Hearing, cable: PtyPort) -> None:
    with linked(cable, hearing):
        hearing.until_a(Reading, lambda: cable.emit(LINE))
        descriptors, threads = len(os.listdir("/proc/self/fd")), threading.active_count()
        for _ in range(25):
            cable.unplug()
            hearing.until_a(ScaleLost)
            cable.plug_in()
            hearing.until_a(Reading, lambda: cable.emit(LINE))
        assert len(os.listdir("/proc/self/fd")) == descriptors
        assert threading.active_count() == threads


def test_garbage_gives_no_reading_and_does_no_harm(hearing: Hearing, cable: PtyPort) -> None:
    with linked(cable, hearing):
        hearing.until_a(ScaleFound)
        for noise in (
            b"\xff\xfe\x80\x00\xe0" * 20,
            b"boot v1.2\r\n",
            b"ST,+00\x0012.4  g\r\n",
            bytes(range(256)),
            b"\r\n",
        ):
            cable.emit(noise)
        hearing.until_a(Reading, lambda: cable.emit(LINE))
    assert hearing.loads() == ["123.4 g"]


def test_a_missing_port_is_told_once_and_found_when_it_comes(hearing: Hearing, tmp_path: Path) -> None:
    path = tmp_path / "later"
    with linked(path, hearing) as link:
        lost = hearing.until_a(ScaleLost).message
        assert isinstance(lost, ScaleLost)
        assert lost.why.startswith(f"There is no port {path}.")
        tries = link.progress
        with PtyPort(path) as cable:
            hearing.until_a(ScaleFound)
            hearing.until_a(Reading, lambda: cable.emit(LINE))
            assert link.progress > tries
            assert sum(isinstance(e.message, ScaleLost) for e in hearing.heard) == 1


def test_each_try_to_open_a_missing_port_counts_as_progress_but_is_told_only_once(
    hearing: Hearing, tmp_path: Path
) -> None:
    with linked(tmp_path / "nothing", hearing) as link:
        hearing.until_a(ScaleLost)
        end_s = hearing.clock.now().boot_s + DEADLINE_S
        while link.progress < 10:
            assert hearing.clock.now().boot_s < end_s
            hearing.inbox.next(0.01)
    assert [type(e.message) for e in hearing.heard] == [ScaleLost]


def test_a_port_in_use_by_another_station_is_told_with_its_cause(cable: PtyPort) -> None:
    first, second = Hearing(), Hearing()
    with linked(cable, first):
        first.until_a(ScaleFound)
        with linked(cable, second):
            lost = second.until_a(ScaleLost).message
            assert isinstance(lost, ScaleLost)
            assert "in use by another program" in lost.why
            first.until_a(Reading, lambda: cable.emit(LINE))
    third = Hearing()
    with linked(cable, third):
        third.until_a(ScaleFound)


TIOCGEXCL = 0x80045440  # Linux, asm-generic/ioctls.h: read the terminal's exclusive mode


def exclusive(path: Path) -> bool:
    """Whether the terminal is closed to other programs; root may open it all the same, and then looks."""
    try:
        descriptor = os.open(path, os.O_RDWR | os.O_NOCTTY | os.O_NONBLOCK)
    except OSError as refused:
        return refused.errno == errno.EBUSY
    try:
        return struct.unpack("i", fcntl.ioctl(descriptor, TIOCGEXCL, b"\0\0\0\0"))[0] == 1
    finally:
        os.close(descriptor)


def test_a_plain_open_by_another_program_is_kept_out_while_we_read_and_no_longer(
    hearing: Hearing, cable: PtyPort
) -> None:
    with linked(cable, hearing):
        hearing.until_a(ScaleFound)
        assert exclusive(cable.path)
    assert not exclusive(cable.path)


def test_a_path_that_is_no_port_is_told_in_a_sentence(hearing: Hearing, tmp_path: Path) -> None:
    plain = tmp_path / "notes.txt"
    plain.write_text("not a port")
    with linked(plain, hearing):
        lost = hearing.until_a(ScaleLost).message
    assert isinstance(lost, ScaleLost)
    assert str(plain) in lost.why


def test_a_scale_that_speaks_when_asked_is_asked_and_understood(hearing: Hearing, cable: PtyPort) -> None:
    voice, asked = Voice("reply-letter"), []

    def scale() -> None:
        heard = cable.received()
        asked.append(heard)
        cable.emit(voice.answer(heard, Decimal("62.4"), stable=False))

    with linked(cable, hearing, "reply-letter", poll_s=0.05):
        got = hearing.until_a(Reading, scale)
        hearing.until_a(Reading, scale)
    assert got.message == Reading(Mass.grams("62.4"), Stability.MOVING)
    assert set(b"".join(asked).split(b"\r\n")) == {b"SI", b""}


def test_a_request_to_a_seven_bit_scale_carries_its_parity_and_the_answer_loses_it(
    hearing: Hearing, cable: PtyPort
) -> None:
    seven, asked = FORMATS["7E1"], []

    def scale() -> None:
        if heard := cable.received():
            asked.append(heard)
            cable.emit(seven.sent(b"S S      62.45 g\r\n"))

    with linked(cable, hearing, "reply-letter", poll_s=0.05, character="7E1"):
        got = hearing.until_a(Reading, scale)
    assert got.message == Reading(Mass.grams("62.45"), Stability.STABLE)
    # S 0x53 and I 0x49: four and three ones; CR 0x0D three, LF 0x0A two. Even parity sets bit 7 of I and CR.
    assert asked[0] == b"\x53\xc9\x8d\x0a"


def test_a_socket_is_read_lost_and_found_again(hearing: Hearing) -> None:
    with listening() as server, linked(f"socket://127.0.0.1:{server.getsockname()[1]}", hearing):
        for _ in range(2):
            peer, _address = server.accept()
            with peer:
                hearing.until_a(ScaleFound)
                hearing.until_a(Reading, lambda to=peer: to.sendall(LINE))  # type: ignore[misc]
            hearing.until_a(ScaleLost)


@contextlib.contextmanager
def listening() -> Iterator[socket.socket]:
    """A loopback server on a free port below the range from which clients get theirs."""
    with socket.socket() as server:
        server.settimeout(DEADLINE_S)
        server.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        for port in range(21300, 21400):
            with contextlib.suppress(OSError):
                server.bind(("127.0.0.1", port))
                server.listen()
                yield server
                return
        raise AssertionError("no free port")


def test_stop_ends_the_thread_lets_go_of_the_port_and_may_be_called_twice(hearing: Hearing, cable: PtyPort) -> None:
    descriptors, threads = len(os.listdir("/proc/self/fd")), threading.active_count()
    for _ in range(5):
        with linked(cable, hearing) as link:
            hearing.until_a(ScaleFound)
            assert threading.active_count() == threads + 1
        link.stop()
    assert len(os.listdir("/proc/self/fd")) == descriptors
    assert threading.active_count() == threads


def test_stop_without_start_posts_nothing(hearing: Hearing, cable: PtyPort) -> None:
    ScaleLink(ScaleSettings(str(cable.path), "value-unit"), hearing.inbox, hearing.clock).stop()
    envelope = hearing.inbox.next(0.0)
    assert not isinstance(envelope, End)
    assert isinstance(envelope.message, Tick)


class BrokenClock:
    """A clock with a bug in it."""

    def now(self) -> Moment:
        raise RuntimeError("a bug")


def test_a_bug_in_the_thread_ends_the_station(hearing: Hearing, cable: PtyPort) -> None:
    with ScaleLink(ScaleSettings(str(cable.path), "value-unit"), hearing.inbox, BrokenClock()):
        end = hearing.inbox.next(DEADLINE_S)
    assert isinstance(end, End)
    assert isinstance(end.bug, RuntimeError)


def test_wrong_settings_are_refused_all_at_once_with_what_is_accepted(hearing: Hearing) -> None:
    wrong = ScaleSettings("/dev/null", "value-unit", baud=0, character="9N1", unit="stone", poll_s=0)
    with pytest.raises(SettingsError) as refused:
        ScaleLink(wrong, hearing.inbox, hearing.clock)
    assert len(refused.value.problems) == 4
    assert "7E1" in str(refused.value)
    assert "lb" in str(refused.value)
    with pytest.raises(SettingsError, match="status-commas"):
        ScaleLink(ScaleSettings("/dev/null", "nonsense"), hearing.inbox, hearing.clock)
