"""Paired devices: who may touch the bench, as values. A device proves itself by a key of which only a digest is kept.

A device that was not seen for thirty days is forgotten, as far as the days are known: where the wall clock was not
trusted on both sides nobody knows, and it stays. A bench without a network must not lose its phones at a power cut.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass, replace
from datetime import datetime

from station.core.moment import Moment
from station.errors import Refused
from station.texts import t

FORGOTTEN_AFTER_S = 30 * 86400.0
MOST = 50
"""So many devices can be paired at a time."""
NAME_LIMIT = 40


@dataclass(frozen=True, slots=True)
class Stamp:
    """A wall time (UTC), and whether it could be trusted."""

    wall: datetime
    trusted: bool


@dataclass(frozen=True, slots=True)
class Device:
    """One device. `id` names it in forms and opens nothing; `digest` is the SHA-256 of its key, in hex."""

    id: str
    name: str
    digest: str
    paired: Stamp
    seen: Stamp


Devices = tuple[Device, ...]


def stamp(now: Moment) -> Stamp:
    """The wall time of `now`."""
    return Stamp(now.wall, now.trusted)


def digest_of(key: str) -> str:
    """What is kept of a key. It is long and drawn by lot, so a plain digest cannot be turned back."""
    return hashlib.sha256(key.encode()).hexdigest()


def clean_name(typed: str) -> str:
    """A name as it goes into the record: one line, at most forty characters, perhaps empty."""
    line = "".join(c if c.isprintable() else " " for c in typed)
    return " ".join(line.split())[:NAME_LIMIT].strip()


def forgotten(device: Device, now: Stamp) -> bool:
    """Whether it is known that the device was not seen for too long."""
    age_s = (now.wall - device.seen.wall).total_seconds()
    return device.seen.trusted and now.trusted and age_s >= FORGOTTEN_AFTER_S


def holder(devices: Devices, key: object, now: Stamp) -> Device | None:
    """The device that `key` (from a cookie) belongs to; None: nobody's, or too long ago."""
    if not isinstance(key, str):
        return None
    digest = digest_of(key)
    found = next((one for one in devices if one.digest == digest), None)
    return None if found is None or forgotten(found, now) else found


def with_one_more(devices: Devices, new: Device) -> Devices:
    """The devices and a new one, without those that are forgotten by now. Raises Refused when there are too many."""
    left = tuple(one for one in devices if not forgotten(one, new.paired))
    if len(left) >= MOST:
        raise Refused(
            t("{most} devices are paired; no more are kept.", most=MOST), t("Lock one out on the page Devices first.")
        )
    return (*left, new)


def renamed(devices: Devices, device_id: str, name: str) -> Devices:
    """The devices, one with another name. Raises Refused when the name is empty or there is no such device."""
    clean = clean_name(name)
    if not clean:
        raise Refused(t("A device needs a name."), t("Type one, such as phone by the bench."))
    one = _of(devices, device_id)
    return tuple(replace(each, name=clean) if each is one else each for each in devices)


def without(devices: Devices, device_id: str) -> Devices:
    """The devices but for this one. Raises Refused when there is no such device."""
    one = _of(devices, device_id)
    return tuple(each for each in devices if each is not one)


def seen_now(devices: Devices, device: Device, now: Stamp) -> Devices:
    """The devices, of which one has just been seen."""
    return tuple(replace(each, seen=now) if each.id == device.id else each for each in devices)


def _of(devices: Devices, device_id: str) -> Device:
    found = next((each for each in devices if each.id == device_id), None)
    if found is None:
        raise Refused(t("That device is not paired any more."), t("Reload the page."))
    return found


def as_text(devices: Devices) -> str:
    """The devices for their file."""
    rows = [
        {"id": one.id, "name": one.name, "digest": one.digest, "paired": _said(one.paired), "seen": _said(one.seen)}
        for one in devices
    ]
    return json.dumps({"devices": rows}, indent=1, ensure_ascii=False) + "\n"


def from_text(text: str) -> Devices:
    """The devices of a file. Raises ValueError when it is none."""
    try:
        return tuple(
            Device(str(row["id"]), str(row["name"]), str(row["digest"]), _read(row["paired"]), _read(row["seen"]))
            for row in json.loads(text)["devices"]
        )
    except (KeyError, TypeError, AttributeError) as wrong:
        raise ValueError(f"not a list of devices: {wrong!r}") from wrong


def _said(at: Stamp) -> dict[str, object]:
    return {"wall": at.wall.isoformat(), "trusted": at.trusted}


def _read(said: dict[str, object]) -> Stamp:
    wall = datetime.fromisoformat(str(said["wall"]))
    if wall.tzinfo is None:
        raise ValueError("a time without its zone")
    return Stamp(wall, said["trusted"] is True)
