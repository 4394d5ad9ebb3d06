"""Why the scale's port cannot be used, in words for the person at the bench."""

from __future__ import annotations

import errno
import socket
from urllib.parse import urlsplit

from station.errors import ScaleFault
from station.scale.holder import holder_of
from station.texts import N_, t

NETWORKS = ("socket", "rfc2217")
"""Kinds of network ports: raw bytes over TCP, and a serial port shared as RFC 2217 describes."""

_BUSY = {errno.EBUSY, errno.EAGAIN, errno.EWOULDBLOCK}
_NO_ANSWER = {errno.ECONNREFUSED, errno.EHOSTUNREACH, errno.ENETUNREACH, errno.ETIMEDOUT}
_CORRECT = N_("Correct port under [scale] in the settings.")


def is_local(port: str) -> bool:
    """Whether the setting names a device file and not a network address."""
    return "://" not in port


def shared_by_rfc2217(port: str) -> bool:
    """Whether the setting names a serial port that another machine shares as RFC 2217 describes."""
    return port.lower().startswith("rfc2217://")


def misnamed(port: str) -> str | None:
    """What is wrong with the text of the setting `port`, whatever is plugged in; None when it may be right."""
    if is_local(port):
        fits = bool(port.strip()) and port.isprintable()
    else:
        try:
            parts = urlsplit(port)
            fits = parts.scheme in NETWORKS and bool(parts.hostname) and bool(parts.port)
        except ValueError:  # the number of the port is no number or too large, or a bracket is missing
            fits = False
    if fits:
        return None
    ways = ", ".join(f"{network}://host:number" for network in NETWORKS)
    return t("{port} is no port. Give a device such as /dev/ttyUSB0, or {ways}.", port=repr(port), ways=ways)


def why_not(port: str, gone: BaseException) -> ScaleFault:
    """The sentence for a port that cannot be opened or that went away."""
    number = _number(gone)
    if number == errno.ENOENT:
        return ScaleFault(t("There is no port {port}.", port=port))
    if number in (errno.EACCES, errno.EPERM):
        hint = t("Add the service's user to the group that owns the port (often dialout), or install the udev rule.")
        return ScaleFault(t("The port {port} may not be opened by this user.", port=port), hint)
    if number in _BUSY:
        hint = t("End the other program or station; weighing then goes on by itself.")
        who = holder_of(port) or t("another program, perhaps another station")
        return ScaleFault(t("The port {port} is in use by {who}.", port=port, who=who), hint)
    if number in (errno.EIO, errno.ENODEV, errno.ENXIO):
        return ScaleFault(t("The scale on {port} was unplugged.", port=port))
    if number in (errno.ENOTTY, errno.EISDIR):
        return ScaleFault(t("{port} is not a serial port.", port=port), _CORRECT)
    if number in _NO_ANSWER:
        return ScaleFault(t("Nothing answers at {port}.", port=port))
    if any(isinstance(error, socket.gaierror) for error in _chain(gone)):
        return ScaleFault(t("The host in {port} is not known.", port=port), _CORRECT)
    if not is_local(port):
        return ScaleFault(t("The connection to {port} was lost or cannot be made: {gone}.", port=port, gone=gone))
    return ScaleFault(t("The port {port} cannot be used: {gone}.", port=port, gone=gone))


def _number(gone: BaseException) -> int | None:
    """The system's number for what went wrong; pyserial often has it only in the error that its own came from."""
    for error in _chain(gone):
        number: int | None = getattr(error, "errno", None)
        if number is None:
            number = next((arg for arg in error.args if isinstance(arg, int)), None)
        if number is not None:
            return number
    return None


def _chain(gone: BaseException) -> list[BaseException]:
    """The error and those it came from, the last one first."""
    chain = [gone]
    while (earlier := chain[-1].__cause__ or chain[-1].__context__) is not None:
        chain.append(earlier)
    return chain
