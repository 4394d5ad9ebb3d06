"""Under which addresses a phone finds the page of these settings."""

from __future__ import annotations

import socket
from collections.abc import Sequence

from station.address.interfaces import numbers
from station.address.reach import Address, addresses
from station.config import Settings


def page_addresses(settings: Settings, port: int) -> Sequence[Address]:
    """Where a phone finds the page of these settings; nobody else in the network is asked."""
    scheme = "http" if settings.web.certificate is None else "https"
    return addresses(settings.web.host, port, socket.gethostname(), numbers(), scheme=scheme)
