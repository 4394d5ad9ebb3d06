"""The log that several benches share: whether its server answers. Nothing is read from it or written to it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from urllib.parse import urlsplit

from station.benches.server import Server
from station.doctor.finding import Finding, look, passed
from station.doctor.patient import Patient
from station.errors import StationError
from station.texts import t


def shared(patient: Patient) -> Iterator[Finding]:
    """The server of the settings, where several benches share a log."""
    settings = patient.known.shared
    if settings is None:
        yield passed(t("This bench keeps a log of its own."))
        return
    parts = urlsplit(settings.url)
    names = tuple(filter(None, (parts.netloc, parts.hostname, parts.username, parts.path.strip("/"))))
    try:
        with closing(Server(settings.url)) as server, server.transaction():
            pass
    except StationError as fault:
        told = t("The bench works on without it, and sends it what is missing later. {why}", why=fault)
        yield look(told, t(fault.hint), names=names)
        return
    yield passed(t("The server of the shared log answers."))
