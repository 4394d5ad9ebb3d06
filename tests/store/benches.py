"""Casts as the core itself writes them down, played at a bench that a test works: entries and traces are its own."""

from __future__ import annotations

from collections.abc import Callable

from station.core import messages as msg
from station.core.alarms import sounding
from station.core.mass import Mass
from station.core.material import Lot
from tests.play import FOAM, GRIP, RUBBER, SILICONE, Play


def silicone_to_full_cure() -> Play:
    """One cup; the demold alarm is answered by a press, the part demolded, full cure answered too."""
    play = Play()
    play.begin(SILICONE, "220", GRIP, (Lot("A", "S-11"), Lot("B", "S-12")))
    play.put("24.3")
    play.pour("203.0")
    play.press()
    play.pour("20.3", g_per_s=3)
    play.wait(181)
    play.press()
    play.press()
    play.wait(14460, tick_s=60)
    play.press()
    play.send(msg.Demold(1, "page"))
    play.wait(86400 - 14400 + 600, tick_s=600)
    play.press()
    return play


def silicone_with_a_top_up() -> Play:
    """Too much B: A is topped up in the same cup, then the mix is poured after the pour-by alarm."""
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    play.pour("199.8")
    play.press()
    play.pour("22.5", g_per_s=3)
    play.stand(3)
    play.pour("25.2", g_per_s=3)
    play.wait(1600)
    play.press()
    play.press()
    return play


def silicone_with_a_late_drip() -> Play:
    """More A drips in after it was accepted; later a remark is made and the cast given up."""
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    play.pour("199")
    play.load = play.load + Mass.grams("1.5")
    play.stand(5.5)
    play.send(msg.AddNote(1, "a drip", "page"))
    play.send(msg.Abort(1, "the mold has a crack", "page"))
    return play


def foam_combined_on_the_scale() -> Play:
    """Two cups with pigment; A is poured into B on the scale, and the emptied cup is weighed."""
    play = Play()
    plan = play.begin(FOAM, "160", lots=(Lot("A", "F-1"), Lot("B", "F-2")))
    play.put("12.3")
    play.pour(plan.shares[0].planned)
    play.lift()
    play.put("13.1")
    play.pour(_target(play))
    play.pour(_target(play), g_per_s=0.5)
    play.wait(21)
    play.press()
    play.press()
    play.stand(2)
    play.pour(_target(play), g_per_s=30)
    play.wait(16)
    play.press()
    play.lift()
    play.press()
    play.press()
    play.stand(1.5)
    play.put("14.3")
    return play


def rubber_through_a_power_cut() -> Play:
    """Poured, then the power fails for longer than the cure and comes back with a clock that nobody trusts."""
    play = Play()
    play.begin(RUBBER, "200", GRIP)
    play.put("24.3")
    play.pour(_target(play))
    play.press()
    play.pour(_target(play), g_per_s=3)
    play.wait(121)
    play.press()
    play.press()
    play.restart(30_000, "boot-2", trusted=False)
    _wait_for_an_alarm(play)
    play.wait(5)
    play.press()
    return play


def silicone_left_in_the_mold_until_full_cure() -> Play:
    """Nobody comes before both cure alarms sound; taking the part out answers one of them, a press the other."""
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    play.pour("199.8")
    play.press()
    play.pour("20.0", g_per_s=3)
    play.wait(181)
    play.press()
    play.press()
    play.wait(86_400 + 120, tick_s=60)
    play.send(msg.Demold(1, "page"))
    play.wait(30)
    play.press()
    return play


def lost_for_want_of_room() -> Play:
    """So much A that the cup cannot hold what B would have to follow."""
    play = Play()
    play.begin(SILICONE, "220", GRIP)
    play.put("24.3")
    play.pour("880", g_per_s=80)
    play.stand(3)
    return play


def _wait_for_an_alarm(play: Play) -> None:
    for _ in range(100_000):
        if sounding(play.standing):
            return
        play.wait(10, tick_s=10)
    raise AssertionError("no alarm came")


def _target(play: Play) -> Mass:
    target = getattr(play.step, "target", None)
    assert isinstance(target, Mass), play.step
    return target


PLAYS: dict[str, Callable[[], Play]] = {
    play.__name__: play
    for play in (
        silicone_to_full_cure,
        silicone_with_a_top_up,
        silicone_with_a_late_drip,
        foam_combined_on_the_scale,
        rubber_through_a_power_cut,
        silicone_left_in_the_mold_until_full_cure,
        lost_for_want_of_room,
    )
}
