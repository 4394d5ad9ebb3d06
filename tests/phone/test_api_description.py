"""The API's description is true: it is well formed, tells every address, and no answer is other than it says."""

from __future__ import annotations

import json
import math
from datetime import UTC, datetime

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator, ValidationError
from openapi_spec_validator import OpenAPIV31SpecValidator
from schemathesis import GenerationMode, checks
from schemathesis.specs.openapi import checks as promised

from station.core.at_hand import at_hand
from station.core.clocks import AlarmState, ClockKind
from station.core.cues import Cue, Urgency
from station.core.mass import Mass
from station.core.moment import Moment
from station.core.snapshot import (
    AlarmView,
    Banner,
    BannerKind,
    BenchView,
    ColumnView,
    CueView,
    CuringView,
    DialView,
    Fill,
    ScaleState,
    ScaleView,
    Snapshot,
    StepState,
    StepView,
)
from station.errors import Fault, Refused
from station.neighbours import Errand, ErrandState, Neighbour, Neighbourhood
from station.phone.api_description import description
from station.phone.benches_view import benches
from station.phone.touch import ORDERS_OF_SHEETS
from station.phone.wire import state
from station.sheet_desk import SheetDesk
from tests.phone.judged_part import SmallJudge
from tests.phone.shown import WEIGHING, opened_station
from tests.phone.small_book import SmallBook, year
from tests.phone.small_learning import SmallLearning
from tests.phone.small_stock import SmallStock
from tests.phone.test_benches_pages import CAST, ELSEWHERE
from tests.phone.test_benches_pages import SmallDesk as Benches

DESCRIBED = description("test")
FUZZED = [
    (path, method, mode)
    for path, methods in DESCRIBED["paths"].items()
    for method in methods
    for mode in (GenerationMode.POSITIVE, GenerationMode.NEGATIVE)
    if path != "/api/stream" and (method == "post" or mode is GenerationMode.POSITIVE)
]
"""All but the stream, which never ends and is left to the tests of the server. A bare GET has nothing to get wrong."""
EXAMPLES = 15
OF_SHEETS = {f"/api/{name}" for name in ORDERS_OF_SHEETS}
"""Made-up keys name no sheet, so nothing of these reaches the bench."""
AS_TOLD = [
    promised.status_code_conformance,
    promised.content_type_conformance,
    promised.response_schema_conformance,
    promised.response_headers_conformance,
]
CHECKS = [checks.not_a_server_error, *AS_TOLD]

words, flags, counts = st.text(max_size=20), st.booleans(), st.integers(0, 10**6)
grams = st.integers(-(10**6), 10**7).map(Mass)
seconds = st.floats(-1e6, 1e6)
times = st.datetimes(datetime(2020, 1, 1), datetime(2040, 1, 1), timezones=st.just(UTC))
steps = st.sampled_from([Mass(1), Mass(10), Mass(100), Mass(1000)])
numbers = st.integers(1, 999_999_999)
dials = st.lists(
    st.builds(
        DialView,
        kind=st.sampled_from(ClockKind),
        fraction=st.floats(0, 1),
        left_s=seconds | st.just(math.inf),
        length_s=st.floats(1, 1e6),
        running=flags,
        alarm=st.sampled_from(AlarmState),
        due=st.none() | times,
        unknown_gap=flags,
    ),
    max_size=3,
).map(tuple)
columns = st.builds(
    lambda target, off, **rest: ColumnView(target=target, low=target - off, high=target + off, **rest),
    target=st.integers(10_000, 10**6).map(Mass),
    off=st.integers(10, 5000).map(Mass),
    ingredient=words,
    cup=words,
    net=st.none() | grams,
    fill=st.sampled_from(Fill),
    settling=flags,
    rule=words,
)
lines = st.lists(words, max_size=2).map(tuple)
at_bench = st.builds(
    BenchView,
    number=numbers,
    material=words,
    mold=words,
    total=grams,
    way=words,
    way_reason=words,
    strip=st.lists(st.builds(StepView, words, words, st.sampled_from(StepState)), max_size=3).map(tuple),
    title=words,
    words=words,
    column=st.none() | columns,
    dials=dials,
    paused=flags,
    press_means=words,
    cautions=lines,
    items=lines,
    notes=lines,
)
in_molds = st.builds(CuringView, numbers, words, words, dials, flags, st.none() | times, words)
alarms = st.builds(AlarmView, numbers, st.sampled_from(ClockKind), st.none() | seconds, st.sampled_from(Urgency), words)
scales = st.builds(
    ScaleView,
    st.sampled_from(ScaleState),
    st.none() | grams,
    st.none() | st.floats(0, 1e6),
    flags,
    words,
    steps,
    counts,
)
snapshots = st.builds(
    Snapshot,
    seq=counts,
    at=st.builds(Moment, st.floats(0, 1e6), st.just("boot"), times, flags),
    scale=scales,
    bench=st.none() | at_bench,
    curing=st.lists(in_molds, max_size=2).map(tuple),
    alarms=st.lists(alarms, max_size=2).map(tuple),
    last_cue=st.none() | st.builds(CueView, st.sampled_from(Cue), words, counts),
    banners=st.lists(st.builds(Banner, st.sampled_from(BannerKind), words, words), max_size=2).map(tuple),
    unsaved=counts,
)


def shape(name):
    return Draft202012Validator({"$ref": f"#/components/schemas/{name}", "components": DESCRIBED["components"]})


def sent(values):
    """As they come out of the wire. A number that JSON does not know fails here."""
    return json.loads(json.dumps(values, allow_nan=False))


def test_the_description_is_well_formed_and_is_what_the_station_serves():
    OpenAPIV31SpecValidator(DESCRIBED).validate()
    with opened_station() as station:
        served = station.client().get("/api/openapi.json").get_json()
    assert served["paths"] == sent(DESCRIBED["paths"])
    assert served["info"]["version"] != "test"


def test_every_address_of_the_api_is_described_with_its_methods_and_nothing_else_is(tmp_path):
    desks = {
        "molds": SheetDesk((), tmp_path),
        "stock": SmallStock(),
        "judging": SmallJudge(),
        "facts": SmallBook(year(40)),
        "learning": SmallLearning(),
    }
    with opened_station(benches=Benches(), **desks) as station:
        rules = [rule for rule in station.app.url_map.iter_rules() if rule.rule.startswith("/api/")]
    real = {rule.rule: {m.lower() for m in rule.methods or ()} - {"head", "options"} for rule in rules}
    assert {path: set(methods) for path, methods in DESCRIBED["paths"].items()} == real


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(snapshots)
def test_whatever_goes_on_at_the_bench_is_told_as_described(seen):
    shape("state").validate(sent(state(seen)))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    snapshots,
    st.lists(
        st.builds(
            Errand,
            words,
            st.integers(1, 9),
            numbers,
            st.sampled_from(ClockKind),
            words,
            st.sampled_from(ErrandState),
            words,
        ),
        max_size=2,
    ),
    st.none() | st.just(WEIGHING.at),
)
def test_whatever_goes_on_at_all_benches_is_told_as_described(seen, errands, read):
    others = (Neighbour(2, "two", 4.0, ELSEWHERE), Neighbour(3, "three", 900.0, at_hand(seen), "unclear"))
    hood = Neighbourhood(1, read, others, (CAST,), tuple(errands))
    shape("benches").validate(sent(benches(hood, seen, "one")))


def test_a_value_that_nobody_described_is_found():
    more = sent(state(WEIGHING)) | {"more": 1}
    with pytest.raises(ValidationError, match="'more' was unexpected"):
        shape("state").validate(more)
    less = sent(state(WEIGHING))
    del less["alarms"][0]["since"]
    with pytest.raises(ValidationError, match="'since' is a required property"):
        shape("state").validate(less)


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    """What a paired device sends along (where it comes from, its token, its cookie), and its station."""
    judge, sheets = SmallJudge(), SheetDesk((), tmp_path_factory.mktemp("state"))
    with opened_station(
        benches=Benches(),
        molds=sheets,
        stock=SmallStock(),
        judging=judge,
        facts=SmallBook(year(40)),
        learning=SmallLearning(),
    ) as station:
        judge.ask = station.asked
        station.post(WEIGHING)
        visitor = station.paired()
        cookie = visitor.client.get_cookie("tarebell-80")
        assert cookie is not None
        headers = {"Origin": "http://localhost", "X-Tarebell-Token": visitor.token}
        yield {"headers": headers, "cookies": {"tarebell-80": cookie.value}}, station


@pytest.fixture(scope="module")
def described(shop):
    return schemathesis.openapi.from_wsgi("/api/openapi.json", shop[1].app)


@pytest.mark.parametrize(("path", "method", "mode"), FUZZED)
def test_no_request_is_answered_otherwise_than_described(path, method, mode, described, shop):
    sent_along, station = shop

    @settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck), database=None)
    @given(described[path][method].as_strategy(generation_mode=mode))
    def asked(case):
        for refuses in (None, Refused("Nothing waits for a press.")):
            station.asked.refuses = refuses
            case.call_and_validate(**sent_along, checks=CHECKS)
        # The one fault that is no fault of the pages: a bench that does not answer is told, and described.
        station.asked.refuses = Fault("The bench did not answer.")
        case.call_and_validate(**sent_along, checks=AS_TOLD)
        case.call_and_validate(checks=CHECKS)

    station.asked.commands.clear()
    asked()
    if mode is GenerationMode.POSITIVE and method == "post" and path not in OF_SHEETS:
        assert station.asked.commands, "nothing that the description allows has reached the bench"
