"""The pages of learning: what they say, what is refused with its field, what acting asks of the bench."""

import re
from urllib.parse import parse_qs, urlsplit

import pytest

from station.core.advice_events import AdviceKind
from station.core.learning_messages import AdoptAdvice, BeginTrial, DropAdvice, EndTrial, LeaveTrialCast, TakeTrialCast
from tests.phone.shown import opened_station
from tests.phone.small_learning import FOAM, SmallLearning

FORM = {"title": "Longer mixing", "name1": "mix time", "levels1": "60 s; 95 s", "blocks": "4", "response": "SOFT_SPOT"}


@pytest.fixture
def book():
    return SmallLearning()


@pytest.fixture
def shop(book):
    with opened_station(learning=book) as station:
        station.asked.answers = book.done
        yield station


def test_the_surest_difference_stands_first_with_its_p_and_a_trial(shop):
    page = shop.client().get("/insight/differences?defect=soft_spot").text
    first = page.split('class="look"')[1]
    assert "data-claimed" in first
    assert "soft spot: " in first
    assert "with the choice of the cut paid for" in first
    assert "They went together; why, only a trial can tell." in first
    assert "<svg" in first
    link = re.search(r'href="(/insight/trials\?[^"]+)"', first)[1].replace("&amp;", "&")
    typed = parse_qs(urlsplit(link).query)
    assert typed["name1"] in (["mix time"], ["first contact to pour"])
    assert "notice" in shop.client().get(link).text


def test_too_few_casts_and_unknown_defects_get_a_sentence(shop, book):
    assert shop.client().get("/insight/differences?defect=nonsense").status_code == 400
    assert "There is no such defect here." in shop.client().get("/insight/differences?defect=nonsense").text
    book.casts = book.casts[:3]
    assert "too few to compare" in shop.client().get("/insight/differences").text
    book.casts = []
    assert "No cast was poured yet" in shop.client().get("/insight/differences").text


def test_differences_for_programs(shop):
    told = shop.client().get("/api/insight/differences?defect=soft_spot").get_json()
    assert told["casts"] == 45
    assert told["looks"][0]["claimed"] is True
    assert {"p", "corrected", "sides"} <= told["looks"][0].keys()
    assert shop.client().get("/api/insight/differences?defect=tear").status_code == 409


def test_two_casts_side_by_side(shop):
    page = shop.client().get("/insight/compare?a=3&b=%237").text
    assert "times the usual spread" in page
    assert 'href="/log/3"' in page
    assert 'href="/log/7"' in page
    wrong = shop.client().get("/insight/compare?a=3&b=900")
    assert wrong.status_code == 400
    assert "is no poured cast among the newest 45" in wrong.text
    assert "Type the numbers" in shop.client().get("/insight/compare").text


def test_advice_shows_value_interval_rule_and_reason_why_not(shop):
    page = shop.client().get("/insight/advice").text
    assert "mass mixed" in page.casefold()
    assert "19 times in 20 between" in page
    assert "96.0 kg/m³ free rise × packing factor 1.2" in page
    assert "What they do not tell yet" in page
    assert "Pair this device" in page


def adopt(page, kind):
    """The form whose button adopts advice of this kind."""
    form = next(one for one in page.split("<form") if f'name="kind" value="{kind}"' in one and "adopt" in one)
    return dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', form))


def test_a_button_lets_plans_use_advice_and_another_ends_it(shop, book):
    visitor = shop.paired()
    fields = adopt(visitor.client.get("/insight/advice").text, "MIX")
    fields.pop("token")
    assert visitor.send("/insight/advice/adopt", **fields).status_code == 303
    command = shop.asked.commands[-1]
    assert isinstance(command, AdoptAdvice)
    assert (command.kind, command.mold, command.material) == (AdviceKind.MIX, "seat-pad", "foam")
    assert command.low < command.value < command.high
    assert len(command.from_casts) > 30
    page = visitor.client.get("/insight/advice").text
    assert "✓ The next plans use it." in page
    assert "Flexible foam, Seat pad: mass mixed" in page
    drop = {"kind": "MIX", "of_mold": "seat-pad", "of_material": "foam"}
    assert visitor.send("/insight/advice/drop", **drop).status_code == 303
    assert isinstance(shop.asked.commands[-1], DropAdvice)
    assert "Plans use</h2>" not in visitor.client.get("/insight/advice").text


def test_advice_that_has_changed_meanwhile_is_not_adopted(shop, book):
    visitor = shop.paired()
    fields = adopt(visitor.client.get("/insight/advice").text, "MIX")
    fields.pop("token")
    book.casts = book.casts[:6]
    answer = visitor.send("/insight/advice/adopt", **fields)
    assert answer.status_code == 409
    assert "has changed since this page was made" in answer.text
    assert shop.asked.commands == []


def test_a_wanted_density_can_be_typed(shop):
    page = shop.client().get(f"/insight/advice?material={FOAM.key}&mold=seat-pad&density=110").text
    assert "For 110.0 kg/m³ (as typed)" in page
    wrong = shop.client().get(f"/insight/advice?material={FOAM.key}&mold=seat-pad&density=1,100")
    assert wrong.status_code == 409
    assert 'aria-describedby="density-slip"' in wrong.text


def test_advice_for_programs(shop):
    told = shop.client().get("/api/insight/advice").get_json()
    assert told["advice"][0]["kind"] == "MIX"
    assert told["advice"][0]["unit"] == "g"
    assert any("why_not" in one for one in told["advice"])


def test_a_trial_is_shown_with_its_power_before_it_is_begun(shop, book):
    visitor = shop.paired()
    page = visitor.client.get("/insight/trials", query_string=FORM).text
    assert "4 casts of each setting" in page
    assert page.count("<b>60 s</b>") == page.count("<b>95 s</b>") == 4
    seed = re.search(r'name="seed" value="(\d+)"', page)[1]
    again = visitor.client.get("/insight/trials", query_string=FORM | {"seed": seed}).text
    assert (
        again.split('class="figures runs stack"')[1].split("</table>")[0]
        == page.split('class="figures runs stack"')[1].split("</table>")[0]
    )
    assert visitor.send("/insight/trials/begin", **(FORM | {"seed": seed})).status_code == 303
    command = shop.asked.commands[-1]
    assert isinstance(command, BeginTrial)
    assert (command.title, command.seed, len(command.runs)) == ("Longer mixing", int(seed), 8)
    assert "Trial 1: Longer mixing" in shop.client().get("/insight/trials").text


@pytest.mark.parametrize(
    ("typed", "at", "said"),
    [
        ({"levels1": "60 s"}, "factors", "two to 4 different"),
        ({"blocks": "many"}, "blocks", "how many days"),
        ({"blocks": "40"}, "blocks", "at most 32"),
        ({"half": "yes"}, "half", "Only of three"),
        ({"response": "LUCK"}, "response", "cannot be looked at"),
    ],
)
def test_a_trial_that_is_none_says_so_at_its_field(shop, typed, at, said):
    for answer in (
        shop.client().get("/insight/trials", query_string=FORM | typed),
        shop.paired().send("/insight/trials/begin", **(FORM | typed)),
    ):
        assert answer.status_code == 409
        assert said in answer.text
        assert f'id="{at}-slip"' in answer.text
    assert shop.asked.commands == []


def test_a_trial_without_a_name_is_not_begun(shop):
    answer = shop.paired().send("/insight/trials/begin", **(FORM | {"title": ""}))
    assert answer.status_code == 409
    assert 'id="title-slip"' in answer.text


def test_a_trial_gets_its_casts_tells_what_it_found_and_ends(shop, book):
    visitor = shop.paired()
    visitor.send("/insight/trials/begin", **FORM)
    page = shop.client().get("/insight/trials/1").text
    assert "No cast with 60 s is judged yet." in page or "No cast with 95 s is judged yet." in page
    for run in range(1, 9):
        assert visitor.send("/insight/trials/1/take", run=str(run), cast=str(run + 10)).status_code == 303
        assert isinstance(shop.asked.commands[-1], TakeTrialCast)
        page = shop.client().get("/insight/trials/1").text
    assert "exact within days" in page
    assert 'href="/log/11"' in page
    assert visitor.send("/insight/trials/1/leave", run="8").status_code == 303
    assert isinstance(shop.asked.commands[-1], LeaveTrialCast)
    assert visitor.send("/insight/trials/1/end", reason="the mold tore").status_code == 303
    assert isinstance(shop.asked.commands[-1], EndTrial)
    assert "Ended. the mold tore" in shop.client().get("/insight/trials/1").text
    assert shop.client().get("/insight/trials/2").status_code == 404


def test_a_measured_trial_gives_effects_with_their_intervals(shop, book):
    visitor = shop.paired()
    page = visitor.client.get("/insight/trials", query_string=FORM | {"response": "DENSITY"}).text
    assert "times the spread between like casts" in page
    assert "kg/m³" in page
    visitor.send("/insight/trials/begin", **(FORM | {"response": "DENSITY"}))
    trial = book.play.standing.trials[0]
    for run in trial.begun.runs:
        visitor.send("/insight/trials/1/take", run=str(run.run), cast=str(run.run))
        page = shop.client().get("/insight/trials/1").text
    assert "second setting less first, kg/m³" in page
    assert "standard deviation, 3 degrees of freedom" in page


def test_nonsense_for_a_run_gets_a_sentence(shop, book):
    visitor = shop.paired()
    visitor.send("/insight/trials/begin", **FORM)
    answer = visitor.send("/insight/trials/1/take", run="1", cast="the red one")
    assert answer.status_code == 409
    assert 'role="alert"' in answer.text
