"""Settings of the station as frozen slices; reading and checking the file is `settings`' affair."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from decimal import Decimal
from enum import Enum
from pathlib import Path

from station.core.guidance.task import Leading
from station.core.mass import Mass
from station.core.material import Cup, ScaleCard
from station.texts import t

SYNC_MARK = Path("/run/systemd/timesync/synchronized")
"""Where the usual time service leaves its mark."""


@dataclass(frozen=True, slots=True)
class ScaleSettings:
    """Port and frame family of the bench scale. `poll_s` is for families that speak only when asked.

    `unit` is for lines without one, `worth` what one of the last digit counts where lines carry no point either.
    `request` is what to ask with where it is not the family's usual question. Port `found`: the scale found last.
    """

    port: str
    family: str
    baud: int = 9600
    character: str = "8N1"
    unit: str | None = None
    poll_s: float = 0.5
    request: bytes | None = None
    worth: Decimal = Decimal(1)
    card: ScaleCard = field(default_factory=lambda: ScaleCard(Mass.grams("0.1"), Mass.grams(3000)))


@dataclass(frozen=True, slots=True)
class SignalSettings:
    """GPIO numbers (BCM); None: not fitted. `tone` is a tonal buzzer besides the active one: the pace of a
    led pour also rises in pitch."""

    buzzer: int | None = 17
    tone: int | None = None
    lamp_ready: int | None = 22
    lamp_busy: int | None = 23
    lamp_attention: int | None = 24
    pedal: int | None = 27
    button: int | None = 5
    long_press_s: float = 0.8
    speech: bool = True


@dataclass(frozen=True, slots=True)
class BenchSettings:
    """How the bench behaves. The ready check may be switched off; `weighing_s` is what one weighing takes."""

    ready_check: bool = True
    weighing_s: float = 40.0
    cup: Cup = field(default_factory=lambda: Cup(Mass.grams(1000), t("1 litre cup")))


class Look(Enum):
    """Who may look at the page without touching."""

    FREE = "free"
    PAIRED = "paired"


@dataclass(frozen=True, slots=True)
class GuidanceSettings:
    """How pours are led; `numbers`: what is still to pour is spoken, where there is a voice."""

    leading: Leading = field(default_factory=Leading)
    numbers: bool = False


@dataclass(frozen=True, slots=True)
class WebSettings:
    """Where the page listens, who may look, and the files of a certificate and its key (both or none)."""

    host: str = "0.0.0.0"
    port: int = 8060
    look: Look = Look.FREE
    certificate: Path | None = None
    key: Path | None = None


@dataclass(frozen=True, slots=True)
class ClimateSettings:
    """Who tells the temperature at the bench. `sensor`: the id of a one-wire sensor, `found`: the only one, `none`.

    `humidity`: whether a humidity sensor is looked for. `period_s` lies between two looks.
    """

    sensor: str = "found"
    period_s: float = 30.0
    humidity: bool = True


@dataclass(frozen=True, slots=True)
class SharedSettings:
    """The log that several benches share. `url` may hold a password, so it is never shown; `bench` is 1 to 9."""

    url: str = field(repr=False)
    bench: int
    title: str = ""


@dataclass(frozen=True, slots=True)
class BackupSettings:
    """Where backups go. `folder` None: beside the record. `copies`: folders on other disks.

    `sticks`: a copy onto each stick that is plugged in.
    """

    folder: Path | None = None
    copies: tuple[Path, ...] = ()
    sticks: bool = True


@dataclass(frozen=True, slots=True)
class PushSettings:
    """Addresses that messages go to. Whoever knows one can send there, so they are never shown."""

    addresses: tuple[str, ...] = field(default=(), repr=False)


@dataclass(frozen=True, slots=True)
class TimeSettings:
    """`mark` is the file below /run that the time service leaves once it has heard a server in this boot."""

    mark: Path = SYNC_MARK


@dataclass(frozen=True, slots=True)
class Settings:
    """The whole station.toml."""

    name: str
    state_dir: Path
    scale: ScaleSettings
    signals: SignalSettings = field(default_factory=SignalSettings)
    bench: BenchSettings = field(default_factory=BenchSettings)
    guidance: GuidanceSettings = field(default_factory=GuidanceSettings)
    web: WebSettings = field(default_factory=WebSettings)
    climate: ClimateSettings = field(default_factory=ClimateSettings)
    time: TimeSettings = field(default_factory=TimeSettings)
    backup: BackupSettings = field(default_factory=BackupSettings)
    push: PushSettings = field(default_factory=PushSettings)
    sheets: tuple[Path, ...] = ()
    temperature_c: float | None = None
    shared: SharedSettings | None = None
    file: Path | None = None
    """The file that they were read from."""
    language: str = "en"
    """What the station says, shows and records is in this language."""


_OPEN_SCHEMES = "https?|postgresql(?:\\+psycopg)?|socket|rfc2217"
"""Addresses of these are no secrets but for a password in them, outside of [push]."""


def without_passwords(toml: str) -> str:
    """The text of a settings file for others' eyes: passwords, and addresses that messages go to, give way to dots."""
    toml = re.sub(r"(://[^:/@\s\"']*:)[^\s\"']*(?=@)", r"\1…", toml)
    toml = _without_addresses(toml, rf"(?!(?:{_OPEN_SCHEMES})://)")
    return re.sub(
        r"(?ms)^[ \t]*\[[ \t]*[\"']?push[\"']?[ \t]*\].*?(?=^[ \t#]*\[[^\]\n]*\][ \t]*(?:#.*)?$|\Z)",
        lambda table: _without_addresses(table[0], ""),
        toml,
    )


def _without_addresses(toml: str, but: str) -> str:
    """Addresses in quotes up to the closing one, others up to the next blank."""
    toml = re.sub(rf"(?s)([\"'])({but}[A-Za-z][A-Za-z0-9+.-]*://)(?:(?=\1)|(?:\\.|(?!\1)[^\n])*)", r"\1\2…", toml)
    return re.sub(rf"(?<![\"'A-Za-z0-9+.-])({but}[A-Za-z][A-Za-z0-9+.-]*://)\S+", r"\1…", toml)
