"""The numbers under which this computer is in its networks, from the kernel's files: nobody else is asked."""

from __future__ import annotations

import ipaddress
import re
from pathlib import Path

_LOCAL = re.compile(r"\|-- (\S+)\s+/32 host LOCAL")
_GLOBAL_SCOPE = 0x00
_UNFIT = 0x01 | 0x20 | 0x40
"""Flags of an IPv6 address that changes by itself, is on its way out, or is not sure yet."""
_GATEWAY = 0x2

Number = ipaddress.IPv4Address | ipaddress.IPv6Address


def numbers(root: Path = Path("/")) -> tuple[Number, ...]:
    """IPv4 addresses, then lasting IPv6 ones; first those of the networks that lead on. Nothing is raised."""
    folder = root / "proc/self/net"
    onward, others = _networks(_text(folder / "route"))
    v4 = {ipaddress.IPv4Address(text) for text in _LOCAL.findall(_text(folder / "fib_trie")) if _is_v4(text)}
    v6 = [each for line in _text(folder / "if_inet6").splitlines() if (each := _v6(line)) is not None]
    here = [number for number in v4 if not (number.is_loopback or number.is_link_local)]

    def rank(number: ipaddress.IPv4Address) -> tuple[int, ipaddress.IPv4Address]:
        places = [any(number in net for net in nets) for nets in (onward, others)]
        return (0 if places[0] else 1 if places[1] else 2), number

    return (*sorted(here, key=rank), *sorted(set(v6)))


def _networks(table: str) -> tuple[list[ipaddress.IPv4Network], list[ipaddress.IPv4Network]]:
    """The networks of the interfaces that have a gateway, and those of the others."""
    rows = [line.split() for line in table.splitlines()[1:]]
    good = [row for row in rows if len(row) >= 8]
    leading = {row[0] for row in good if _hex(row[3]) & _GATEWAY}
    onward: list[ipaddress.IPv4Network] = []
    others: list[ipaddress.IPv4Network] = []
    for row in good:
        mask = _from_kernel(row[7])
        if int(mask):
            net = ipaddress.IPv4Network((int(_from_kernel(row[1])) & int(mask), str(mask)))
            (onward if row[0] in leading else others).append(net)
    return onward, others


def _from_kernel(text: str) -> ipaddress.IPv4Address:
    """Eight hex digits, the last pair of which is the first part: machines of this kind store the low byte first."""
    return ipaddress.IPv4Address(_hex(text).to_bytes(4, "little"))


def _hex(text: str) -> int:
    try:
        return int(text, 16) & 0xFFFFFFFF
    except ValueError:
        return 0


def _is_v4(text: str) -> bool:
    try:
        ipaddress.IPv4Address(text)
    except ValueError:
        return False
    return True


def _v6(line: str) -> ipaddress.IPv6Address | None:
    match line.split():
        case [digits, _, _, scope, flags, _] if len(digits) == 32 and _hex(scope) == _GLOBAL_SCOPE:
            try:
                return None if _hex(flags) & _UNFIT else ipaddress.IPv6Address(int(digits, 16))
            except ValueError:
                return None
        case _:
            return None


def _text(file: Path) -> str:
    try:
        return file.read_text("ascii", errors="replace")
    except OSError:
        return ""
