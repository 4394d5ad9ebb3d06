"""Finding the scale at one port for one person: open it, conduct the search, keep what was found."""

from __future__ import annotations

import os

from station.errors import ScaleFault
from station.ports import TimeSource
from station.scale.bit7 import FORMATS
from station.scale.finding.conduct import Conductor, Person
from station.scale.finding.outcome import NotFound, Profile
from station.scale.finding.profiles import Profiles
from station.scale.finding.queries import RATES
from station.scale.finding.search import search
from station.scale.port import GONE, open_port
from station.scale.reasons import is_local, shared_by_rfc2217, why_not
from station.texts import N_

_LOOK = N_("Check the scale's cable and power, and the name of the port.")


def find(port: str, person: Person, clock: TimeSource, profiles: Profiles) -> Profile | NotFound:
    """Search at `port` and save the profile. Raises ScaleFault for a port that cannot be opened or goes away."""
    try:
        found = _found(port, person, clock)
    except ScaleFault as fault:
        if fault.hint != ScaleFault.hint:
            raise
        raise ScaleFault(str(fault), _LOOK) from fault  # the service goes on by itself, a search does not
    if isinstance(found, Profile):
        profiles.save(found)
    return found


def _found(port: str, person: Person, clock: TimeSource) -> Profile | NotFound:
    wake_r, wake_w = os.pipe()
    try:
        opened = open_port(port, RATES[0], FORMATS["8N1"], wake_r)
        try:
            fixed = None if is_local(port) or shared_by_rfc2217(port) else RATES[0]
            return Conductor(opened, person, clock).conduct(search(port, fixed))
        except GONE as gone:
            raise why_not(port, gone) from gone
        finally:
            opened.close()
    finally:
        os.close(wake_r)
        os.close(wake_w)
