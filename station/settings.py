"""Settings: station.toml into frozen settings, with every problem of the file listed at once."""

from __future__ import annotations

import re
from decimal import Decimal
from pathlib import Path

from station.addresses import MOST_ADDRESSES, wrong_with, wrong_with_log
from station.config import (
    SYNC_MARK,
    BackupSettings,
    BenchSettings,
    ClimateSettings,
    GuidanceSettings,
    Look,
    PushSettings,
    ScaleSettings,
    Settings,
    SharedSettings,
    SignalSettings,
    TimeSettings,
    WebSettings,
)
from station.core.guidance.task import Leading, Strength
from station.core.mass import Mass
from station.core.material import Cup, ScaleCard
from station.errors import SettingsError
from station.languages import ENGLISH, languages
from station.quantities import celsius, mass, seconds, some_mass
from station.reading import Reader, one_of, text, texts, toml_table, whole, within, yes_no
from station.texts import t

BAUDS = (300, 600, 1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200)
CHARACTERS = ("8N1", "7E1", "7O1", "8E1", "8O1", "8N2", "7N2", "7E2", "7O2")
UNITS = ("g", "kg", "mg", "oz", "lb", "ozt", "ct")
PIN = whole(0, 27)
PINS = ("buzzer", "tone", "lamp_ready", "lamp_busy", "lamp_attention", "pedal", "button")


def read_settings(path: Path) -> Settings:
    """The settings in a file. Raises SettingsError with one sentence per problem."""
    problems: list[str] = []
    top = Reader(toml_table(path), str(path), problems)
    settings = Settings(
        name=top.take("name", text, "Tarebell"),
        language=top.take("language", one_of(*languages()), ENGLISH),
        # Paths in the file are meant from where the file lies.
        state_dir=path.parent / top.need("state_dir", text, "."),
        scale=_scale(top.table("scale")),
        signals=_signals(top.table("signals")),
        bench=_bench(top.table("bench")),
        guidance=_guidance(top.table("guidance")),
        web=_web(top.table("web"), path.parent),
        climate=_climate(top.table("climate")),
        time=_time(top.table("time")),
        backup=_backup(top.table("backup"), path.parent),
        push=_push(top.table("push")),
        file=path,
        sheets=tuple(path.parent / place for place in top.take("sheets", texts, ())),
        temperature_c=top.take("temperature", within(celsius, -10, 60, "°C"), None),
        shared=_shared(top.table("shared")) if top.has("shared") else None,
    )
    top.done()
    if problems:
        raise SettingsError(problems)
    return settings


def _scale(reader: Reader) -> ScaleSettings:
    card = ScaleCard(
        reader.take("readability", some_mass, Mass.grams("0.1")),
        reader.take("maximum", some_mass, Mass.grams(3000)),
        reader.take("lag", within(seconds, 0, 3, "s"), 0.5),
    )
    if not reader.spoiled and card.maximum.mg < 100 * card.readability.mg:
        reader.complain(t("maximum must be at least 100 times readability"))
    port = reader.need("port", text, "?")
    settings = ScaleSettings(
        port=port,
        family=reader.take("family", text, "") if port == "found" else reader.need("family", text, "?"),
        baud=reader.take("baud", _baud, 9600),
        character=reader.take("character", one_of(*CHARACTERS), "8N1"),
        unit=reader.take("unit", one_of(*UNITS), None),
        worth=reader.take("last_digit", _tenth, Decimal(1)),
        poll_s=reader.take("poll", within(seconds, 0.05, 10, "s"), 0.5),
        card=card,
    )
    reader.done()
    return settings


def _baud(value: object) -> int:
    if not isinstance(value, int) or value not in BAUDS:
        raise SettingsError([t("must be one of {known}, without quotes", known=", ".join(map(str, BAUDS)))])
    return value


def _tenth(value: object) -> Decimal:
    if isinstance(value, str) and re.fullmatch(r"1|0\.0{0,4}1", value):
        return Decimal(value)
    raise SettingsError([t('must be "1", "0.1", "0.01" or so: what one of the last digit counts')])


def _signals(reader: Reader) -> SignalSettings:
    plain = SignalSettings()
    pins = {name: reader.take(name, _pin_or_none, getattr(plain, name)) for name in PINS}
    used = [pin for pin in pins.values() if pin is not None]
    for name, pin in pins.items():
        if pin is not None and used.count(pin) > 1:
            reader.complain(t("{name} = {pin}: this GPIO number is used twice", name=name, pin=pin))
    settings = SignalSettings(
        **pins,
        long_press_s=reader.take("long_press", within(seconds, 0.3, 5, "s"), plain.long_press_s),
        speech=reader.take("speech", yes_no, plain.speech),
    )
    reader.done()
    return settings


def _pin_or_none(value: object) -> int | None:
    if value == "none":
        return None
    try:
        return PIN(value)
    except SettingsError:
        raise SettingsError([t('must be a GPIO number from 0 to 27, or "none" when it is not fitted')]) from None


def _bench(reader: Reader) -> BenchSettings:
    plain = BenchSettings()
    cup = Cup(
        reader.take("cup_capacity", some_mass, plain.cup.capacity),
        reader.take("cup_name", text, plain.cup.title),
        reader.take("cup_empty", mass, plain.cup.empty),
    )
    settings = BenchSettings(
        ready_check=reader.take("ready_check", yes_no, plain.ready_check),
        weighing_s=reader.take("weighing", within(seconds, 5, 600, "s"), plain.weighing_s),
        cup=cup,
    )
    reader.done()
    return settings


def _guidance(reader: Reader) -> GuidanceSettings:
    strengths = {strength.name.lower(): strength for strength in Strength}
    leading = Leading(reader.take("on", yes_no, True), strengths[reader.take("strength", one_of(*strengths), "even")])
    settings = GuidanceSettings(leading, reader.take("numbers", yes_no, False))
    reader.done()
    return settings


def _web(reader: Reader, here: Path) -> WebSettings:
    plain = WebSettings()
    files = {name: reader.take(name, text, "") for name in ("certificate", "key")}
    if not reader.spoiled and bool(files["certificate"]) != bool(files["key"]):
        reader.complain(t("certificate and key belong together: name both files, or none"))
    settings = WebSettings(
        reader.take("host", text, plain.host),
        reader.take("port", whole(1, 65535), plain.port),
        Look(reader.take("look", one_of(*(look.value for look in Look)), plain.look.value)),
        certificate=here / files["certificate"] if files["certificate"] else None,
        key=here / files["key"] if files["key"] else None,
    )
    reader.done()
    return settings


def _climate(reader: Reader) -> ClimateSettings:
    plain = ClimateSettings()
    settings = ClimateSettings(
        sensor=reader.take("sensor", _sensor, plain.sensor),
        period_s=reader.take("period", within(seconds, 5, 600, "s"), plain.period_s),
        humidity=reader.take("humidity", yes_no, plain.humidity),
    )
    reader.done()
    return settings


def _backup(reader: Reader, here: Path) -> BackupSettings:
    plain = BackupSettings()
    folder = reader.take("folder", text, "")
    settings = BackupSettings(
        folder=here / folder if folder else None,
        copies=tuple(here / place for place in reader.take("copies", texts, ())),
        sticks=reader.take("sticks", yes_no, plain.sticks),
    )
    reader.done()
    return settings


def _push(reader: Reader) -> PushSettings:
    said = reader.take("addresses", lambda value: value, [])
    known = isinstance(said, list) and all(isinstance(each, str) for each in said)
    addresses = tuple(map(str, said)) if known and isinstance(said, list) else ()
    # Without the value, here and below: whoever knows an address can send there.
    if not known:
        reader.complain(t('addresses must be a list such as ["json://host:8080/path"]'), "addresses")
    if len(addresses) > MOST_ADDRESSES:
        reader.complain(t("addresses: there can be {most} at most", most=MOST_ADDRESSES), "addresses")
    for number, each in enumerate(addresses, 1):
        if wrong := wrong_with(each):
            reader.complain(
                t("addresses, number {number}: {wrong}", number=number, wrong=wrong.rstrip(".")), "addresses"
            )
    reader.done()
    return PushSettings(addresses)


def _time(reader: Reader) -> TimeSettings:
    settings = TimeSettings(mark=reader.take("mark", _below_run, SYNC_MARK))
    reader.done()
    return settings


def _below_run(value: object) -> Path:
    # Only /run is empty after each boot: a mark elsewhere would vouch for a time that nobody has heard yet.
    if isinstance(value, str) and value.startswith("/run/") and ".." not in value:
        return Path(value)
    raise SettingsError(
        [t('must be a file below /run, such as "/run/time-heard", because that is empty after each boot')]
    )


def _sensor(value: object) -> str:
    if isinstance(value, str) and (value in ("found", "none") or re.fullmatch(r"28-[0-9a-f]{12}", value)):
        return value
    raise SettingsError([t('must be "found", "none", or the name of one sensor such as "28-0316a2795cff"')])


def _shared(reader: Reader) -> SharedSettings:
    url = reader.need("url", lambda value: value, "")
    wrong = wrong_with_log(url)
    if wrong and reader.has("url"):
        reader.complain(wrong, "url")  # without the value: a password may stand in it
    settings = SharedSettings(
        url=str(url),
        bench=reader.need("bench", whole(1, 9), 1),
        title=reader.take("title", text, ""),
    )
    reader.done()
    return settings
