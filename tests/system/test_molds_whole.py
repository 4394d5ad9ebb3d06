"""A mold looked after from a phone at a whole station: what is said is kept, and is there after a restart."""

from __future__ import annotations

from flask.testing import FlaskClient

from tests.phone.whole_map import OURS, TOKEN, Map, whole_map


def told(client: FlaskClient, key: str) -> dict[str, object]:
    return next(one for one in client.get("/api/molds").json["molds"] if one["key"] == key)


def send(client: FlaskClient, what: str, **said: str):
    return client.post(f"/api/{what}", json=said, headers=OURS | {"X-Tarebell-Token": TOKEN})


def begins(shop: Map, client: FlaskClient) -> str:
    """What the station says to a cast in the footbed's mold that is only planned."""
    form = {"token": TOKEN, "material": "example-silicone", "mold": "boot-footbed", "amount": "204 g"}
    return client.post("/new", data=form, headers=OURS).get_data(as_text=True)


def test_release_agent_and_retirement_are_told_to_the_plan_and_survive_a_restart(tmp_path):
    with whole_map(tmp_path) as shop:
        phone = shop.client(paired=True)
        assert told(phone, "boot-footbed")["release"]["name"] == "UNKNOWN"
        assert "No release agent is on record" in begins(shop, phone)
        assert send(phone, "release", mold="boot-footbed").json == {"cast": None}
        assert told(phone, "boot-footbed")["since_release"] == 0
        assert "elease agent" not in begins(shop, phone)
        assert send(phone, "retire", mold="boot-footbed", reason="torn at the seam").status_code == 200
        assert "is retired: torn at the seam." in begins(shop, phone)
        refused = send(phone, "begin", material="example-silicone", mold="boot-footbed", amount="204 g")
        assert (refused.status_code, "is retired" in refused.json["refused"]) == (409, True)
    with whole_map(tmp_path) as shop:
        phone = shop.client(paired=True)
        kept = told(phone, "boot-footbed")
        assert (kept["since_release"], kept["retired"]) == (0, "torn at the seam")
        assert send(phone, "return", mold="boot-footbed").status_code == 200
        assert told(phone, "boot-footbed")["retired"] == ""
