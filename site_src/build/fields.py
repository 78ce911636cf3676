"""The detail form's fields, once for all pages of the tree: a script puts them in.

Without scripts the form is hidden, so that nobody misses them there. What differs from page to page
is what is assumed where a field is empty; that stays in the page.
"""

import re

from engine.model.guide import Guide
from engine.pages.form import Field, choices_of
from engine.pages.render import BORDERS, borderless, field_html
from site_src.build.filled import filled

SCRIPT = "fields.js"
UP = "@"
"""Where a picture's address begins with it, the script puts the way to the site's root."""
ASSUMED = "\N{OBJECT REPLACEMENT CHARACTER}"
REGION = re.compile("{}(.*?){}".format(*map(re.escape, BORDERS)), re.DOTALL)
NAME = re.compile(r' name="([^"]+)"')
PICTURE = re.compile(r'src="(?:\.\./)+assets/')

Around = tuple[str, str]
"""What stands before and after what is assumed."""


def script(guide: Guide) -> str:
    """The script with the fields in it."""
    return filled(SCRIPT, fields_of(guide))


def fields_of(guide: Guide) -> dict[str, Around]:
    """Each field by its question; the loads are not among them, whose rows are those of the rig."""
    return {
        question.id: _around(guide, Field(question, "", ASSUMED, "", choices_of(guide, question)))
        for question in guide.questions
        if question.where != "path" and question.kind != "loads"
    }


def _around(guide: Guide, field: Field) -> Around:
    text = str(field_html(guide, field, UP)).strip()
    named = f"{guide.wording.page['assumed-short']}: {ASSUMED}"
    before, _, after = text.replace(named, ASSUMED).partition(ASSUMED)
    return before, after


def without_fields(bordered: str, fields: dict[str, Around]) -> str:
    """A page without the fields that the script puts in: in their place is what is assumed there.

    bordered: the page with a border before and after each of its regions
    """

    def spared(region: re.Match[str]) -> str:
        text = region[1].strip()
        name = NAME.search(text)
        if name is None or name[1] not in fields:
            return region[0]
        before, after = fields[name[1]]
        drawn = PICTURE.sub(f'src="{UP}../assets/', text)
        if not (drawn.startswith(before) and drawn.endswith(after)):
            return region[0]
        assumed = drawn[len(before) : len(drawn) - len(after)]
        return f'<i data-rig-put="{name[1]}">{assumed}</i>'

    return borderless(REGION.sub(spared, bordered))
