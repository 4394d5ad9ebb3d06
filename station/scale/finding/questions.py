"""Asking a silent scale: which setting and which harmless question it answers with its load. Pure."""

from __future__ import annotations

from collections.abc import Generator
from dataclasses import replace

from station.scale.finding.queries import ENQUIRY, FIRST, LATER, SEND, SETTINGS
from station.scale.finding.setting import Heard, put
from station.scale.finding.wishes import Answer, Tell, Wish
from station.texts import t


def answering(rates: tuple[int, ...], printed: Heard | None) -> Generator[Wish, Answer, Heard | None]:
    """The setting and the query that a silent scale answers with its load, or None."""
    settings = SETTINGS if len(rates) > 1 else ((rates[0], "8N1"),)
    if printed is not None and printed.hearing.best is not None:
        settings = ((printed.baud, printed.format),)
    for queries in (FIRST, LATER):
        for baud, character in settings:
            yield Tell(t("Asking at {baud} baud, {character}.", baud=baud, character=character))
            answered = yield from _answered(baud, character, queries)
            if answered is not None and answered.hearing.best is not None and answered.hearing.best.loads:
                return answered
            if answered is not None:
                # A refusal is an answer too: the setting is right, only the question was not.
                settings = ((baud, answered.format),)
                break
    return None


def _answered(baud: int, character: str, queries: tuple[bytes, ...]) -> Generator[Wish, Answer, Heard | None]:
    refusal = None
    for query in queries:
        heard = yield from put(baud, character, query)
        if query == ENQUIRY and heard.data[-1:] in (b"\x06", b"\x86"):
            heard = yield from put(baud, character, SEND)
            heard = replace(heard, query=ENQUIRY + SEND)
        best = heard.hearing.best
        if best is None:
            continue
        own = best.spec.request
        if not best.loads and own is not None and own != query:
            # The family has shown itself: its own question cannot harm it.
            heard = yield from put(baud, character, own)
            best = heard.hearing.best
        if best is not None and best.loads:
            return heard
        refusal = heard
    return refusal
