"""A request that cannot be worked out is answered as refused, and the engine goes on."""

import json

import pytest

from engine import browser
from engine.browser import reply
from engine.model.guide import Guide


def test_a_request_that_fails_is_refused_by_its_id_and_the_next_is_answered(
    guide: Guide, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = json.dumps({"id": 7, "path": "rig=van/", "fragment": "", "form": None})
    whole = json.loads(reply(asked, guide))

    def fail(_guide: Guide, _asked: dict[str, object]) -> dict[str, str]:
        raise KeyError("chart-days")

    with monkeypatch.context() as patch:
        patch.setitem(browser.KINDS, "page", fail)
        assert json.loads(reply(asked, guide)) == {"id": 7, "refused": "KeyError: 'chart-days'"}
    assert json.loads(reply(asked, guide)) == whole
    assert "refused" not in whole


@pytest.mark.parametrize("text", ["[]", '{"kind": "nothing"}'])
def test_what_is_no_request_is_an_error_of_the_page(guide: Guide, text: str) -> None:
    with pytest.raises(ValueError, match="a request is"):
        reply(text, guide)
