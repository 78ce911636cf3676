"""Everything that is put into a template is escaped, with the library's own result."""

import markupsafe
import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from engine.pages.render import environment, escape


@given(st.text(alphabet=st.sampled_from("<>&'\"ab é")))
def test_a_text_is_escaped_as_the_library_does(text: str) -> None:
    assert escape(text) == markupsafe.escape(text)
    assert escape(text) == markupsafe.escape(text), "and so is the same text again"


def test_markup_and_the_text_that_equals_it_stay_apart() -> None:
    for _ in range(2):
        assert escape("<b>") == "&lt;b&gt;"
        assert escape(Markup("<b>")) == "<b>"


@pytest.mark.parametrize("value", [1, 1.0, True, None, Markup("a & b")])
def test_other_values_are_given_to_the_library(value: object) -> None:
    assert str(escape(value)) == str(markupsafe.escape(value))
    assert isinstance(escape(value), Markup)


def test_templates_use_it() -> None:
    template = environment().from_string("{{ text }}{{ markup }}")
    assert template.render(text="<i>&", markup=Markup("<b>")) == "&lt;i&gt;&amp;<b>"
    assert template.root_render_func.__globals__["escape"] is escape
