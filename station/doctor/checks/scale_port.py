"""The way to the scale: which port is meant, whether it is there, who may open it, and who has it open.

The port is never opened here: a station that runs would lose bytes.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from station.doctor.finding import Finding, failed, look, passed
from station.doctor.life import Life
from station.doctor.patient import Patient
from station.doctor.rights import READ, WRITE, group_of, may
from station.errors import ScaleFault
from station.handles import programs_with
from station.scale.finding.ports import listed_ports
from station.scale.finding.profiles import Profiles
from station.scale.reasons import is_local
from station.texts import t


def scale_port(patient: Patient) -> Iterator[Finding]:
    """The port of the settings, or of the scale that was found last."""
    settings = patient.known
    try:
        scale = Profiles(settings.state_dir).in_force(settings.scale)
    except ScaleFault as fault:
        yield look(str(fault), t("Run `tarebell scale find`, or open Scale on the page."))
        return
    if not is_local(scale.port):
        yield passed(
            t("The scale is behind the network, at {port}: only the station itself can try it.", port=scale.port),
            names=(scale.port,),
        )
        return
    yield from _device(patient, scale.port)


def _device(patient: Patient, port: str) -> Iterator[Finding]:
    device = patient.place(port)
    real = os.path.realpath(device)
    names = (port, real)
    if not os.path.exists(real):
        yield failed(t("There is no port {port}.", port=port), _which_there_are(patient), names=names)
        return
    place = Path(real)
    if not may(patient.owner, place, READ | WRITE):
        told = t("The station runs as {user}, who may not open {port}.", user=patient.owner.name, port=port)
        cure = t(
            "Let that user into the group that owns the port, then start the station again: sudo usermod -aG "
            "{group} {user}",
            group=group_of(place),
            user=patient.owner.name,
        )
        yield failed(told, cure, names=names)
        return
    yield _held(patient, port, real)


def _held(patient: Patient, port: str, real: str) -> Finding:
    holders = programs_with(real, patient.place("/proc"))
    station = patient.station
    names = (port, real)
    # Others' handles are only seen by root: what a station that runs has open may be hidden.
    strangers = [one for one in holders if station.program is None or one.pid != station.program.pid]
    if strangers and (station.program is not None or station.life is Life.STOPPED):
        told = t("{port} is held by {program}.", port=port, program=strangers[0].words)
        cure = t("End that program: two readers steal each other's bytes. sudo kill {pid}", pid=strangers[0].pid)
        return failed(told, cure, names=names)
    if station.life is Life.RUNS:
        if holders:
            return passed(t("The station has {port} open.", port=port), names=names)
        if patient.by.uid != 0:
            told = t("{port} is there, and the station may open it. Who has it open only root can see.", port=port)
            return passed(told, names=names)
        told = t("The station runs, but does not have {port} open.", port=port)
        return failed(told, t("The page Scale says why."), names=names)
    if holders:
        return look(t("{port} is held by {program}.", port=port, program=holders[0].words), names=names)
    told = t("{port} is there, the station may open it, and nobody is seen to have it open.", port=port)
    return passed(told, names=names)


def _which_there_are(patient: Patient) -> str:
    if patient.probe.root != Path("/"):
        return t("Plug the scale's adapter in.")
    there = ", ".join(port.name for port in listed_ports())
    if not there:
        return t("Plug the scale's adapter in, and switch the scale on. No serial port is there at all.")
    return t("Plug the scale's adapter in, or name another port in the settings. There are: {ports}.", ports=there)
