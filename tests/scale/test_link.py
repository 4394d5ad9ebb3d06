"""What the thread that owns the port tells of the lines that come in, over real pseudo-terminals."""

from __future__ import annotations

import threading
from decimal import Decimal

import pytest

from station.core.mass import Mass
from station.core.messages import Fact, NoLoad, Reading, ScaleFound, ScaleLost, Stability, Trouble
from station.core.moment import Moment, gap_s
from station.inbox import Inbox
from station.scale.bit7 import FORMATS
from station.scale.families import FAMILIES
from station.scale.link import newest
from station.simulated.pty_port import PtyPort
from station.simulated.voices import Delivery, Voice
from tests.scale.hearing import DEADLINE_S, Hearing, linked

LINE = b"ST,+00123.4  g\r\n"


def test_the_port_is_announced_and_a_reading_arrives_with_its_moment(hearing: Hearing, cable: PtyPort) -> None:
    with linked(cable, hearing):
        assert hearing.until_a(ScaleFound).message == ScaleFound(str(cable.path))
        before = hearing.clock.now()
        got = hearing.until_a(Reading, lambda: cable.emit(LINE))
        assert got.message == Reading(Mass.grams("123.4"), Stability.STABLE)
        assert (gap_s(before, got.at) or -1) >= 0
        assert (gap_s(got.at, hearing.clock.now()) or -1) >= 0


@pytest.mark.parametrize("family", [name for name, spec in FAMILIES.items() if spec.request is None and spec.guides])
def test_every_streaming_family_is_heard_over_a_terminal(hearing: Hearing, cable: PtyPort, family: str) -> None:
    voice = Voice(family, Delivery.STREAM)
    worth = Decimal(1).scaleb(-(voice.implied_decimals or 0))
    with linked(cable, hearing, family, unit="g", worth=worth):
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


def test_a_menu_set_to_another_family_blanks_the_scale_names_the_new_one_and_heals(
    hearing: Hearing, cable: PtyPort
) -> None:
    with linked(cable, hearing):
        for _ in range(3):
            hearing.until_a(Reading, lambda: cable.emit(LINE))
        other = Voice("value-unit-s").line(Decimal("62.4"), True)
        lost = hearing.until_a(ScaleLost, lambda: cable.emit(other)).message
        assert isinstance(lost, ScaleLost)
        assert "makes no sense as status-commas" in lost.why
        assert "look like value-unit-s now" in lost.why
        hearing.until_a(ScaleFound, lambda: cable.emit(LINE))
        hearing.until_a(Reading, lambda: cable.emit(LINE))
    assert set(hearing.loads()) == {"123.4 g"}
