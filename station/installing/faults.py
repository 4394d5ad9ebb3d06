"""What stops an installation; each says what is wrong and what to do, and leaves what ran before."""

from __future__ import annotations

from station.errors import Fault, Refused
from station.texts import N_


class InstallFault(Fault):
    """A step did not come off."""

    hint = N_("Mend that and run the same command again: it goes on where it stopped.")


class NotNow(Refused):
    """Something runs at the bench that must not be interrupted."""

    hint = N_("Nothing was changed. Run the same command again when the bench is free.")


class Interrupted(InstallFault):
    """A person, or the computer, ends the installation in the middle."""
