"""The pages: complete, the same every time, and true to the answer they show."""

import html
import json
import re
import subprocess
import sys
from urllib.parse import parse_qsl

import pytest

from engine.browser import reply
from engine.links import read_pairs
from engine.model.guide import Guide
from engine.pages.contact import telephone
from engine.past import link_of
from engine.respond import conversation_of, respond, respond_to
from engine.tree import states
from tests.prose.texts import TRADE_WORD

ANSWER = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
DIGEST = """
import hashlib
from engine.pages.units_page import draw_range
from engine.respond import conversation_of, respond_to
from engine.tree import states
from guide.paths_kept import open_guide
guide = open_guide()
links = [(path, "") for path in states(conversation_of(guide))[::50]]
links += [
    ("rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=no/v240=no/", "solar=800W"),
    (
        "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/",
        "bank=48V&chemistry=agm&alt=150A&space=closed&beside=twin-48v-3200va",
    ),
]
text = "".join(respond_to(guide, *link).html for link in links) + draw_range(guide).html
print(hashlib.sha256(text.encode()).hexdigest())
"""


def test_pages_are_the_same_bytes_whatever_the_hash_seed() -> None:
    digests = {
        subprocess.run(
            [sys.executable, "-c", DIGEST],
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": "."},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "77")
    }
    assert len(digests) == 1


def test_every_choice_of_a_question_is_a_link_not_sure_included(guide: Guide) -> None:
    page = respond_to(guide, "rig=van/")
    assert page.kind == "question"
    assert re.findall(r'data-choice="([^"]+)"', page.html) == ["whole", "some", "unsure"]
    assert 'href="../rig=van/scope=whole/"' in page.html


def test_answers_so_far_can_be_changed_one_by_one(guide: Guide) -> None:
    page = respond_to(guide, "rig=van/scope=whole/")
    assert 'href="../../"' in page.html
    assert 'href="../../rig=van/"' in page.html


def test_an_answer_page_shows_parts_checks_cautions_and_assumptions(guide: Guide) -> None:
    page = respond_to(guide, ANSWER)
    advice = page.answer.advice
    assert advice is not None
    assert advice.best.design is not None
    text = html.unescape(TRADE_WORD.sub(r"\1", page.html))
    for line in advice.best.design.parts:
        assert line.name in text
    for check in advice.best.checks:
        assert guide.check_words(check.id).name in text
    for note in advice.cautions:
        assert note.text in text
        assert note.do in text
    for name in advice.outcome.needs.assumed:
        assert guide.question(name).ask in text


@pytest.mark.parametrize(
    ("have", "assumed"),
    [("200ah", "12 V, AGM lead-acid"), ("2x100Ah lithium", "12 V"), ("1x 200Ah 12V agm 2y", "")],
)
def test_what_was_not_said_of_batteries_is_said_to_be_assumed(
    guide: Guide, have: str, assumed: str
) -> None:
    page = respond(guide, read_pairs(guide, [*ANSWER.strip("/").split("/"), f"have={have}"]))
    text = " ".join(re.sub("<[^>]+>", " ", page.html).split())
    label = guide.wording.numbers["have-assumed"]
    assert (f"{label} {assumed}" in text) if assumed else (label not in text)


def test_a_field_that_cannot_be_read_keeps_what_was_typed_beside_its_message(guide: Guide) -> None:
    page = respond(
        guide, read_pairs(guide, [*ANSWER.strip("/").split("/"), "cable=15 kg"]), changes=False
    )
    field = re.search(r'<input id="rig-cable"[^>]*>', page.html)
    assert field is not None
    assert 'value="15 kg"' in field[0]
    assert 'aria-invalid="true"' in field[0]
    assert "Expected a length, got a weight" in page.html
    assert page.answer.status == "recommended"


def test_the_worker_s_reply_is_the_page(guide: Guide) -> None:
    request = f'{{"id": 7, "path": "{ANSWER}", "fragment": "cable=15ft"}}'
    page = respond_to(guide, ANSWER, "cable=15ft")
    answered = reply(request, guide)
    assert f'"id": 7, "did": "", "title": "{page.title}"' in answered
    assert page.fragment == "cable=15ft"


def test_the_form_goes_before_the_fragment(guide: Guide) -> None:
    request = (
        f'{{"id": 1, "path": "{ANSWER}", "fragment": "cable=15ft", '
        '"form": {"cable": "9 ft", "nights": ""}, "whole": false}'
    )
    assert '"fragment": "cable=9ft"' in reply(request, guide)


def test_a_quick_reply_lacks_only_what_can_come_a_moment_later(guide: Guide) -> None:
    asked = {"id": 1, "path": ANSWER, "fragment": "cable=15ft", "form": None}
    quick = json.loads(reply(json.dumps({**asked, "whole": False}), guide))
    whole = json.loads(reply(json.dumps(asked), guide))
    later = r'<div class="rig-paper rig-foot">.*?</div>\s*</div>\s*'
    changes = r'<section id="rig-(?:changes|setups)".*?</section>'
    first, last = (
        re.sub(changes, "", each.pop("html"), flags=re.DOTALL) for each in (quick, whole)
    )
    assert re.search(later, last, re.DOTALL)
    last = re.sub(later, "", last, flags=re.DOTALL)
    assert re.sub(r"\s+", " ", first) == re.sub(r"\s+", " ", last)
    assert quick == whole


def test_a_request_of_another_form_is_refused(guide: Guide) -> None:
    with pytest.raises(ValueError, match="a request is an object"):
        reply("[]", guide)


def test_ids_on_a_page_are_unique(guide: Guide) -> None:
    for path in (ANSWER, "", "rig=unsure/"):
        ids = re.findall(r'\sid="([^"]+)"', respond_to(guide, path).html)
        assert len(ids) == len(set(ids))


@pytest.mark.parametrize(
    ("path", "fragment"), [(ANSWER, "cable=9ft&note=a%26b"), (ANSWER, "payload=5kg")]
)
def test_the_contact_opens_a_message_with_the_link_of_this_answer(
    guide: Guide, path: str, fragment: str
) -> None:
    page = respond_to(guide, path, fragment)
    assert page.answer.status == ("none-fits" if "payload" in fragment else "recommended")
    (address,) = re.findall(r'href="(mailto:[^"]+)"', page.html)
    to, _, query = html.unescape(address).removeprefix("mailto:").partition("?")
    told = dict(parse_qsl(query))
    assert to == guide.shop.email
    link = told["body"].splitlines()[-1]
    assert link == link_of(conversation_of(guide), page.answer.answers)
    assert f"edition={guide.edition}" in link
    assert f'href="{telephone(guide.shop.phone)}"' in page.html


def test_titles_tell_pages_apart(guide: Guide) -> None:
    paths = states(conversation_of(guide))
    sample = [path for path in paths if path.count("/") <= 3][:40]
    for path in sample:
        page = respond_to(guide, path)
        assert page.title
        assert page.description
