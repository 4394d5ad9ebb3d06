"""The page of the climate: temperature and humidity at the bench, who tells them, and typing a temperature."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, redirect, render_template, request
from werkzeug.wrappers import Response as Answer

from station.casting.moisture import dew_point_c, urethane_caution
from station.errors import Refused, SettingsError, StationError
from station.phone import orders
from station.phone.climate_view import ClimateDesk, ClimateSeen
from station.phone.guard import device
from station.phone.words import age_text
from station.quantities import celsius
from station.texts import t

TEXT_LIMIT = 20


def climate_pages(desk: ClimateDesk) -> Blueprint:
    """The routes under /climate."""
    bp = Blueprint("climate", __name__, url_prefix="/climate")

    @bp.app_context_processor
    def everywhere() -> dict[str, Any]:
        return {"has_climate_page": True}

    def page(refused: str = "", typed: str = "") -> str:
        return render_template("climate.html", **shown(desk.seen()), refused=refused, typed=typed)

    @bp.get("")
    def climate() -> str:
        return page()

    @bp.post("")
    def take() -> Answer | tuple[str, int]:
        text = request.form.get("temperature", "")
        try:
            desk.typed(_temperature(text), device())
        except StationError as refusal:
            return page(refusal.sentence(), text[:TEXT_LIMIT]), 409
        return redirect("/climate", 303)

    return bp


def shown(seen: ClimateSeen) -> dict[str, Any]:
    """The climate in the words of the page."""
    cautions, dew = [], ""
    if seen.humidity_percent is not None:
        cautions.append(urethane_caution(seen.humidity_percent))
        dew = _dew_point(seen.celsius, seen.humidity_percent)
    return {
        "temperature": "" if seen.celsius is None else f"{_signed(seen.celsius)} °C",
        "where": seen.where,
        "age": age_text(seen.age_s),
        "old": seen.old,
        "humidity": "" if seen.humidity_percent is None else f"{seen.humidity_percent:.0f} %",
        "humidity_age": age_text(seen.humidity_age_s),
        "dew_point": dew,
        "cautions": [caution for caution in cautions if caution],
        "troubles": seen.troubles,
        "waiting": seen.waiting,
    }


def _dew_point(temperature_c: float | None, percent: float) -> str:
    try:
        return "" if temperature_c is None else f"{_signed(dew_point_c(temperature_c, percent))} °C"
    except Refused:
        return ""  # no air of a workshop; the troubles say more


def _signed(value: float) -> str:
    text = f"{value:.1f}"
    return text.lstrip("-") if not text.strip("-0.") else text.replace("-", "\N{MINUS SIGN}")


def _temperature(text: str) -> float:
    """The typed temperature in °C; a bare number means °C. Raises NotUnderstood with a sentence."""
    clean = text.strip().replace("\N{MINUS SIGN}", "-")
    if not clean:
        raise orders.NotUnderstood(t("No temperature is typed."), t('Type one such as "23 °C".'))
    if len(clean) > TEXT_LIMIT:
        raise orders.NotUnderstood(t("That is too long for a temperature."), t('Type one such as "23 °C".'))
    try:
        return celsius(clean, bare="°C")
    except SettingsError as wrong:
        raise orders.NotUnderstood(str(wrong)) from None
