"""What a page says of itself to search engines: schema.org terms, only where they are true.

Every page: where it lies among the others. The first page: what the tool is. The glossary: its
terms. A page whose front matter says ``howto: true``: the steps of its numbered lists.
"""

import html
import json
import re
from typing import Any

from mkdocs.structure.nav import Section
from mkdocs.structure.pages import Page

from engine.model.guide import Guide
from site_src.build.addresses import root_of
from site_src.build.glossary import PAGE as GLOSSARY
from site_src.build.glossary import terms as words_of_glossary

LESS = "\\u003c"
CONTEXT = "https://schema.org"
TAG = re.compile(r"<[^>]+>")
ASIDE = re.compile(r'<a class="headerlink".*?</a>', re.DOTALL)
SECTION = re.compile(r"<h2[^>]*>(.*?)</h2>(.*?)(?=<h2|\Z)", re.DOTALL)
STEPS = re.compile(r"<ol>(.*?)</ol>", re.DOTALL)
STEP = re.compile(r"<li>(.*?)</li>", re.DOTALL)

Data = dict[str, Any]


def words(part: str) -> str:
    """The text of a part of a page: no tags, one space between words."""
    return " ".join(html.unescape(TAG.sub("", ASIDE.sub("", part))).split())


def trail(places: list[tuple[str, str]]) -> Data:
    """Where a page lies: names and addresses from the first page down to it."""
    return {
        "@type": "BreadcrumbList",
        "itemListElement": [
            {"@type": "ListItem", "position": place, "name": name, "item": address}
            for place, (name, address) in enumerate(places, start=1)
        ],
    }


def tool(guide: Guide, name: str, description: str, address: str) -> Data:
    """What the first page is: a tool in the browser that costs nothing, and whose it is."""
    return {
        "@type": "WebApplication",
        "name": name,
        "description": description,
        "url": address,
        "applicationCategory": "UtilitiesApplication",
        "operatingSystem": "Any",
        "isAccessibleForFree": True,
        "inLanguage": "en",
        "provider": {"@type": "Organization", "name": guide.shop.name},
    }


def terms(name: str) -> Data:
    """The terms of the glossary."""
    return {
        "@type": "DefinedTermSet",
        "name": name,
        "hasDefinedTerm": [
            {"@type": "DefinedTerm", "name": each.word, "description": each.means}
            for each in words_of_glossary()
        ],
    }


def how_to(name: str, description: str, page: str) -> Data:
    """The steps of a page that tells how to do something, by its sections with numbered lists."""
    sections = [
        {
            "@type": "HowToSection",
            "name": words(heading),
            "itemListElement": [
                {"@type": "HowToStep", "text": words(step)}
                for steps in STEPS.findall(body)
                for step in STEP.findall(steps)
            ],
        }
        for heading, body in SECTION.findall(page)
        if STEPS.search(body)
    ]
    return {"@type": "HowTo", "name": name, "description": description, "step": sections}


def parts_of(guide: Guide, page: Page, site: str, about: str) -> list[Data]:
    """What is true of a page of the theme.

    site, about: the site's name, and what it is in a sentence
    """
    title, content, address = str(page.title), page.content or "", page.canonical_url or ""
    if page.is_homepage:
        return [tool(guide, site, about, address)]
    above = [(str(each.title), each.canonical_url or "") for each in heads(page)]
    found = [trail([(site, root_of(guide)), *above, (title, address)])]
    if page.file.src_uri == GLOSSARY:
        found.append(terms(title))
    if page.meta.get("howto"):
        found.append(how_to(title, str(page.meta.get("description", "")), content))
    return found


def heads(page: Page) -> list[Page]:
    """The pages that stand at the head of the sections that a page belongs to, outermost first."""
    sections = [each for each in reversed(list(page.ancestors)) if isinstance(each, Section)]
    first = [each.children[0] for each in sections if each.children]
    return [each for each in first if isinstance(each, Page) and each.is_index and each != page]


def block(parts: list[Data]) -> str:
    """The element that carries the data; nothing in it can end the element early."""
    text = json.dumps({"@context": CONTEXT, "@graph": parts}, ensure_ascii=False, sort_keys=True)
    return f'<script type="application/ld+json">{text.replace("<", LESS)}</script>'
