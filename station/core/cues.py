"""Cues: what the station says to the person, each with one meaning. How a cue sounds is the signals' affair."""

from __future__ import annotations

from enum import Enum

from station.texts import N_


class Cue(Enum):
    """A short cue. The value is its meaning in words, for the log and the page."""

    TARED = N_("cup seen and tared")
    ACCEPTED = N_("accepted and written down")
    KEPT_IN_MEMORY = N_("accepted, but only kept in memory: the disk does not take it")
    CONTACT = N_("first contact: the pot life runs")
    NEAR = N_("near the target: pour slowly")
    STOP = N_("in the window: stop pouring")
    OVER = N_("too much")
    RECOMPUTED = N_("the other amounts were recomputed")
    LOST = N_("batch lost")
    GO_ON = N_("go on to the next step")
    MIX_ENOUGH = N_("mixed long enough")
    PAUSED = N_("paused")
    RESUMED = N_("goes on")
    REFUSED = N_("not possible now")
    CUP_LIFTED = N_("cup lifted")
    CUP_KNOWN = N_("cup recognised")
    NO_SCALE = N_("no scale")
    DONE = N_("this cast is at rest in its mold")
    ACKNOWLEDGED = N_("alarm acknowledged")
    DEMOLDED = N_("part is out of its mold")
    READY = N_("check that everything is within reach")


class Urgency(Enum):
    """How an alarm that nobody has acknowledged sounds."""

    CALM = N_("calm")
    FIRST = N_("first minute")
    STRONG = N_("after a minute")
