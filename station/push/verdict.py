"""What came of an attempt to send, in kinds and in words. Never a library's words: they may tell an address."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from station.texts import N_, t


class Kind(Enum):
    """What came of an attempt. The value says it in a sentence."""

    TAKEN = N_("It took the message.")
    UNDERSTOOD = N_("The address is understood.")
    NOT_REACHED = N_("It could not be reached.")
    SILENT = N_("It did not answer in time.")
    ANSWERED = N_("It answered with an error.")
    NOT_TAKEN = N_("It did not take the message.")
    NOT_UNDERSTOOD = N_("The address is not understood: its scheme is not known, or something is missing in it.")
    NOT_HTTP = N_("Messages go over http and https only, and this scheme does not.")
    NO_SENDER = N_("The part that sends messages is not installed on this station.")
    BROKEN = N_("The sending broke off.")
    LATE = N_("It took too long and was given up.")


GOOD = frozenset({Kind.TAKEN, Kind.UNDERSTOOD})


@dataclass(frozen=True, slots=True)
class Verdict:
    """What came of an attempt; `code` is the status of an http answer, where there was one."""

    kind: Kind
    code: int | None = None

    @property
    def good(self) -> bool:
        """Whether all went as it should."""
        return self.kind in GOOD

    @property
    def words(self) -> str:
        """A sentence for a person."""
        if self.kind is Kind.ANSWERED and self.code is not None:
            return t("It answered with the status {code} and did not take the message.", code=self.code)
        return t(self.kind.value)
