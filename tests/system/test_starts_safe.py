"""Safe mode at a whole station: it says so on every page, spares what the bench can do without, and nothing else."""

from __future__ import annotations

import io
import threading
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import pytest
from flask import Flask

import station.app
from station.core.snapshot import BannerKind, ScaleState
from station.phone.app import create_app
from station.starts import safe_mode
from tests.mesh.bodies import box, stl
from tests.phone.shown import Visitor
from tests.system.guarded import WITHIN_S, Guarded

PAGES = ("/", "/curing", "/log", "/new", "/work", "/work/box", "/scale", "/positive", "/materials", "/climate", "/pair")


@pytest.fixture
def apps(monkeypatch: pytest.MonkeyPatch) -> list[Flask]:
    """The page's application, as the station makes it."""
    made: list[Flask] = []

    def keep(web):  # type: ignore[no-untyped-def]
        made.append(create_app(web))
        return made[-1]

    monkeypatch.setattr(station.app, "create_app", keep)
    return made


@pytest.fixture
def spared(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, apps: list[Flask]) -> Iterator[Guarded]:
    with Guarded(tmp_path, monkeypatch, safe_mode(5)) as guarded:
        yield guarded


@pytest.fixture
def whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, apps: list[Flask]) -> Iterator[Guarded]:
    with Guarded(tmp_path, monkeypatch) as guarded:
        yield guarded


def visitor(guarded: Guarded, app: Flask) -> Visitor:
    """A paired one."""
    found = Visitor(app.test_client())
    found.pair(SimpleNamespace(codes=guarded.codes))  # type: ignore[arg-type]
    return found


def sent(visitor: Visitor):  # type: ignore[no-untyped-def]
    data = {"token": visitor.token, "mesh": (io.BytesIO(stl(*box())), "part.stl")}
    return visitor.client.post("/positive", data=data, headers={"Origin": "http://localhost"})


@pytest.mark.parametrize("place", PAGES)
def test_every_page_says_that_the_station_is_in_safe_mode_and_why(
    spared: Guarded, apps: list[Flask], place: str
) -> None:
    page = apps[0].test_client().get(place)
    assert page.status_code == 200
    assert "crashed 5 times within 10 minutes" in page.get_data(as_text=True)


def test_nothing_is_spoken_and_no_mesh_is_measured(spared: Guarded, apps: list[Flask]) -> None:
    assert "voice" not in spared.threads()
    answer = sent(visitor(spared, apps[0]))
    assert answer.status_code == 409
    assert "No mesh is measured in safe mode. Stop the station" in answer.get_data(as_text=True)


def test_no_message_goes_out_and_its_page_is_not_there_in_safe_mode(spared: Guarded, apps: list[Flask]) -> None:
    assert "push" not in spared.threads()
    assert apps[0].test_client().get("/push").status_code == 404


def test_scale_buzzer_pedal_and_page_go_on_in_safe_mode(spared: Guarded) -> None:
    assert {"scale", "buzzer", "press", "web"} <= spared.threads()
    seen = spared.station.board.latest()
    for _ in range(int(WITHIN_S / 0.05)):
        if seen is not None and seen.scale.state is ScaleState.LIVE:
            break
        spared.port.emit(b"ST,+000000.0  g\r\n")
        threading.Event().wait(0.05)
        seen = spared.station.board.latest()
    assert seen is not None
    assert seen.scale.state is ScaleState.LIVE
    assert BannerKind.SAFE_MODE in [banner.kind for banner in seen.banners]


def test_without_safe_mode_it_speaks_and_measures_and_says_nothing(whole: Guarded, apps: list[Flask]) -> None:
    assert "voice" in whole.threads()
    assert sent(visitor(whole, apps[0])).status_code == 303
    seen = whole.station.board.latest()
    assert seen is not None
    assert BannerKind.SAFE_MODE not in [banner.kind for banner in seen.banners]
