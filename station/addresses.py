"""Addresses that messages go to. An address is a secret: whoever knows it can send there."""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass, field

MOST_ADDRESSES = 8
LONGEST = 500
SHOWN = 3


@dataclass(frozen=True, slots=True)
class Address:
    """Where messages go. `url` is never shown; `label` may be. `fixed`: it stands in the settings file."""

    url: str = field(repr=False)
    fixed: bool = False

    @property
    def key(self) -> str:
        """A name for it that tells nothing of it."""
        return hashlib.blake2b(self.url.encode(), digest_size=8).hexdigest()

    @property
    def label(self) -> str:
        """Its scheme and its last three characters; of a short one only the scheme."""
        scheme, _, rest = self.url.partition("://")
        return f"{scheme}://…{rest[-SHOWN:] if len(rest) > 3 * SHOWN else ''}"


def wrong_with(url: str) -> str:
    """What is wrong with an address as far as its look tells; empty when nothing is. Never repeats it."""
    if len(url) > LONGEST:
        return f"An address has at most {LONGEST} characters."
    found = re.fullmatch(r"([A-Za-z][A-Za-z0-9+.-]*)://[^\s/][^\s]*", url)
    if found is None or not url.isprintable():
        return "That is no address. Write one such as json://host:8080/path, without spaces."
    if found[1].lower() in ("http", "https"):
        return "Write json:// for a plain web hook over http, or jsons:// for one over https."
    return ""
