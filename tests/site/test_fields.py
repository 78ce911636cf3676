"""The detail form's fields stand once in a script; pages keep what is assumed in each."""

import re

import pytest

from engine.model.guide import Guide
from engine.pages.render import BORDERS
from engine.respond import respond_to
from site_src.build.fields import UP, fields_of, without_fields

PATHS = (
    "rig=van/scope=some/heavy=0/",
    "rig=rig-30/scope=whole/heavy=1/biggest=cooking/",
    "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/",
)
PUT = re.compile(r'<i data-rig-put="([\w-]+)">(.*?)</i>', re.DOTALL)


@pytest.mark.parametrize("path", PATHS)
def test_put_in_again_the_fields_are_those_that_were_drawn(guide: Guide, path: str) -> None:
    drawn, fields = respond_to(guide, path), fields_of(guide)
    spared = without_fields(drawn.bordered, fields)
    put = PUT.findall(spared)
    assert len(put) > 20
    up = "../" * path.count("/")
    for name, assumed in put:
        before, after = fields[name]
        field = f"{before}{assumed}{after}".replace(UP, up)
        assert f"{BORDERS[0]}{field}" in drawn.bordered.replace(f"{BORDERS[0]}\n", BORDERS[0]), name
    named = re.findall(r'<(?:input|select)[^>]* name="([\w.-]+)"', spared)
    assert all(each.startswith("loads.") for each in named), "each other field is put in"


def test_what_was_typed_stays_in_the_page(guide: Guide) -> None:
    """A field that a script could not put in as it was drawn is left where it is."""
    page = respond_to(guide, PATHS[0], "cable=12ft")
    assert 'value="12ft"' in without_fields(page.bordered, fields_of(guide))
