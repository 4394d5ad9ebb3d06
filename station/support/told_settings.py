"""What is told of the settings: named one by one, so that a setting which comes later is not told by itself."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import fields

from station.config import Settings, SignalSettings

Told = Mapping[str, object]


def told_settings(settings: Settings) -> Mapping[str, Told]:
    """The settings by section. No name, address or folder; of a port only what kind it is."""
    scale, bench, backup = settings.scale, settings.bench, settings.backup
    shared = settings.shared
    return {
        "scale": {
            "port": port_kind(scale.port),
            "family": _plain(scale.family),
            "baud": scale.baud,
            "character": scale.character,
            "unit": scale.unit,
            "poll_s": scale.poll_s,
            "last_digit": str(scale.worth),
            "asks_in_its_own_way": scale.request is not None,
            "readability_mg": scale.card.readability.mg,
            "maximum_mg": scale.card.maximum.mg,
            "lag_s": scale.card.lag_s,
        },
        "signals": {each.name: getattr(settings.signals, each.name) for each in fields(SignalSettings)},
        "bench": {
            "ready_check": bench.ready_check,
            "weighing_s": bench.weighing_s,
            "cup_mg": bench.cup.capacity.mg,
            "cup_empty_mg": bench.cup.empty.mg,
        },
        "guidance": {
            "on": settings.guidance.leading.on,
            "strength": settings.guidance.leading.strength.name.lower(),
            "numbers": settings.guidance.numbers,
        },
        "web": {
            "listens": _listens(settings.web.host),
            "port": settings.web.port,
            "look": settings.web.look.value,
            "encrypted": settings.web.certificate is not None,
        },
        "climate": {
            "sensor": settings.climate.sensor if settings.climate.sensor in ("found", "none") else "named",
            "period_s": settings.climate.period_s,
            "humidity": settings.climate.humidity,
            "temperature_c": settings.temperature_c,
        },
        "backup": {
            "folder": backup.folder is not None,
            "copies": len(backup.copies),
            "sticks": backup.sticks,
        },
        "shared": {"used": shared is not None, "bench": None if shared is None else shared.bench},
        "sheets": {"places": len(settings.sheets)},
    }


def port_kind(port: str) -> str:
    """Of a port only what kind it is: the lasting name of an adapter holds its serial number, an address its host."""
    if re.fullmatch(r"/dev/tty[A-Za-z]{1,6}[0-9]{0,3}|found", port):
        return port
    scheme = re.match(r"([a-z0-9]{1,12})://", port)
    if scheme:
        return f"{scheme[1]}://…"
    return "/dev/serial/…" if port.startswith("/dev/serial/") else "another"


def _plain(word: str) -> str:
    return word if re.fullmatch(r"[a-z0-9-]{0,40}", word) else "another"


def _listens(host: str) -> str:
    if host in ("0.0.0.0", "::"):
        return "to every device in its networks"
    return "to this computer only" if host in ("127.0.0.1", "localhost", "::1") else "on one address"
