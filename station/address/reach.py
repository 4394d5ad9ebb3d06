"""The addresses of the page, the one that lasts first."""

from __future__ import annotations

import ipaddress
import re
from collections.abc import Sequence
from dataclasses import dataclass

from station.address.interfaces import Number
from station.texts import t

_ANY = ("0.0.0.0", "::", "")
_HOST = re.compile(r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?")


@dataclass(frozen=True, slots=True)
class Address:
    """One address of the page, and in a sentence when to take it."""

    url: str
    words: str


def addresses(
    listens_on: str, port: int, host_name: str, numbers: Sequence[Number], *, scheme: str = "http"
) -> tuple[Address, ...]:
    """Where a phone finds a page that `listens_on` a host and port, on a computer of this name with these numbers.

    Empty when the page is for this computer only.
    """
    fixed = _number(listens_on)
    if listens_on == "localhost" or (fixed is not None and fixed.is_loopback):
        return ()
    if fixed is None and listens_on not in _ANY:
        return (Address(_url(scheme, listens_on, port), t("The only address that the settings allow.")),)
    open_to = numbers if listens_on in _ANY else [fixed] if fixed is not None else []
    if listens_on == "0.0.0.0":
        open_to = [number for number in open_to if number.version == 4]
    found = []
    name = host_name.lower().partition(".")[0]
    # A name is found by all numbers of the computer: it is of use only where the page listens on all of them.
    if listens_on in _ANY and _HOST.fullmatch(name) and name != "localhost":
        words = t("By its name: it stays when the number changes. Most phones find it, some old ones do not.")
        found.append(Address(_url(scheme, f"{name}.local", port), words))
    return (*found, *(Address(_url(scheme, str(number), port), _said_of(number)) for number in open_to))


def _said_of(number: Number) -> str:
    if number.version == 4:
        return t("By its number: every phone in this network finds it, until the number changes.")
    return t("By its long number, for networks that use such ones.")


def _url(scheme: str, host: str, port: int) -> str:
    usual = {"http": 80, "https": 443}.get(scheme)
    where = f"[{host}]" if ":" in host else host
    return f"{scheme}://{where}/" if port == usual else f"{scheme}://{where}:{port}/"


def _number(text: str) -> Number | None:
    if text in _ANY:
        return None
    try:
        return ipaddress.ip_address(text)
    except ValueError:
        return None
