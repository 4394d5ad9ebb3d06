"""Under which name and addresses a phone finds the page, and whether the page is there."""

from __future__ import annotations

import socket
from collections.abc import Callable, Iterator

from station.address.answering import silence
from station.address.interfaces import numbers
from station.address.reach import addresses
from station.doctor.finding import Finding, failed, look, passed
from station.doctor.life import Life
from station.doctor.patient import Patient
from station.doctor.sockets import listening_on
from station.doorway import address
from station.texts import t

_NAMES_DAEMON = "avahi-daemon.service"


def network(patient: Patient) -> Iterator[Finding]:
    """The addresses of the page, and whether its name is made known in the network."""
    web = patient.known.web
    name = socket.gethostname()
    numbered = numbers(patient.probe.root)
    scheme = "http" if web.certificate is None else "https"
    found = addresses(web.host, web.port, name, numbered, scheme=scheme)
    urls = [one.url for one in found]
    names = (*urls, name, web.host)
    if not found:
        told = t("The page is for this computer only: no phone can reach it.")
        yield look(told, t('Set host = "0.0.0.0" under [web] in the settings, if phones are to reach it.'))
        return
    if not numbered:
        yield failed(
            t("This computer has no address in any network: no phone can reach the page."),
            t("Join a wireless network or plug a network cable in. The bench itself works without."),
        )
        return
    yield passed(t("A phone finds the page at {addresses}", addresses=", ".join(urls)), names=names)
    if any(url.partition("//")[2].startswith(f"{name.lower()}.local") for url in urls):
        yield from _by_name(patient, name)


def _by_name(patient: Patient, name: str) -> Iterator[Finding]:
    answer = patient.probe.run("systemctl", "is-active", _NAMES_DAEMON)
    if answer is not None and answer.out.strip() in ("inactive", "failed", "unknown"):
        told = t("Nobody makes the name {name}.local known: phones must use the number.", name=name)
        yield look(told, t("Install what makes it known: sudo apt install avahi-daemon"), names=(name, f"{name}.local"))


def page(patient: Patient, silent: Callable[[str], str] = silence) -> Iterator[Finding]:
    """Whether the page answers, and whether somebody else has its port."""
    web = patient.known.web
    held = listening_on(web.port, patient.place("/proc"))
    station = patient.station
    stranger = (
        None
        if held is None or held.program is None or station.program is None or held.program.pid == station.program.pid
        else held.program
    )
    if held is None:
        if station.life is Life.RUNS:
            yield failed(
                t("The station runs, but nobody listens on port {port}.", port=web.port),
                t("Wait a minute if it has just started, else start it again."),
            )
        else:
            yield passed(t("Port {port} is free, and the station would be the only one on it.", port=web.port))
        return
    if stranger is not None or station.life is Life.STOPPED:
        told = t("Port {port} is taken by another program: the station cannot open its page.", port=web.port)
        if held.program is not None:
            told = t(
                "Port {port} is taken by {program}: the station cannot open its page.",
                port=web.port,
                program=held.program.words,
            )
        yield failed(told, t("End that program, or give the page another port under [web] in the settings."))
        return
    url = address(web, web.port)
    why = silent(url)
    if why:
        told = t("The page at {url} does not answer: {why}.", url=url, why=why.rstrip("."))
        yield failed(told, t("Start the station again; send the support file if it stays so."), names=(url, web.host))
        return
    yield passed(t("The page answers at {url}", url=url), names=(url, web.host))
