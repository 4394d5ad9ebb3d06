"""Errors raised on purpose: one tree, each with a sentence for the person at the bench.

Three kinds of "no" are kept apart. `Refused`: a person asked for something that makes no sense now; it
is an answer and nothing has changed. `Fault`: a device or a disk does not do its part; it is shown and
retried. Anything outside this tree is a bug and ends the process, so that systemd starts it afresh.
"""

from station.texts import N_, t


class StationError(Exception):
    """Base of all errors raised on purpose; `hint` says what the person can do about it."""

    hint = ""

    def __init__(self, what: str, hint: str = "") -> None:
        super().__init__(what)
        if hint:
            self.hint = hint

    def sentence(self) -> str:
        """What was wrong and what to do, for a terminal or a page."""
        return f"{self} {t(self.hint)}".strip()


class Refused(StationError):
    """The request makes no sense now. Nothing has changed."""


class WrongField(Refused):
    """What was typed into one field of a form cannot be taken; `field` is the field's name."""

    def __init__(self, field: str, what: str, hint: str = "") -> None:
        super().__init__(what, hint)
        self.field = field


class SettingsError(StationError, ValueError):
    """A settings file, material sheet or mold sheet is wrong; every problem is listed."""

    def __init__(self, problems: list[str]) -> None:
        super().__init__("\n".join(problems))
        self.problems = problems


class Fault(StationError):
    """A device or a disk does not do its part."""


class ScaleFault(Fault, OSError):
    """The scale is unplugged, silent, or its port is in use."""

    hint = N_("Check the scale's cable and power; weighing goes on by itself when it is back.")


class LedgerFault(Fault, OSError):
    """The record cannot be written down or read back."""

    hint = N_("Check free space and the memory card; nothing already written is lost.")


class SlowDisk(LedgerFault):
    """The disk has not said yes or no yet."""

    hint = N_("The bench goes on; entries are kept in memory until it answers.")


class SignalFault(Fault, OSError):
    """A buzzer, lamp or pedal pin cannot be used."""

    hint = N_("Check the pin numbers in the settings and that no other program uses them.")
