"""Cues: what the station says to the person, each with one meaning. How a cue sounds is the signals' affair."""

from __future__ import annotations

from enum import Enum


class Cue(Enum):
    """A short cue. The value is its meaning in words, for the log and the page."""

    TARED = "cup seen and tared"
    ACCEPTED = "accepted and written down"
    KEPT_IN_MEMORY = "accepted, but only kept in memory: the disk does not take it"
    CONTACT = "first contact: the pot life runs"
    NEAR = "near the target: pour slowly"
    STOP = "in the window: stop pouring"
    OVER = "too much"
    RECOMPUTED = "the other amounts were recomputed"
    LOST = "batch lost"
    GO_ON = "go on to the next step"
    MIX_ENOUGH = "mixed long enough"
    PAUSED = "paused"
    RESUMED = "goes on"
    REFUSED = "not possible now"
    CUP_LIFTED = "cup lifted"
    CUP_KNOWN = "cup recognised"
    NO_SCALE = "no scale"
    DONE = "this cast is at rest in its mold"
    ACKNOWLEDGED = "alarm acknowledged"
    READY = "check that everything is within reach"


class Urgency(Enum):
    """How an alarm that nobody has acknowledged sounds."""

    CALM = "calm"
    FIRST = "first minute"
    STRONG = "after a minute"
