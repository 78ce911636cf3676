"""MkDocs hooks; each only calls the functions that do the work.

Node makes the engine and other processes draw the tree while MkDocs reads and draws the explanatory
pages: both begin once the site's folder is empty, and are waited for when they are needed.
"""

import os
from collections.abc import Iterator
from concurrent.futures import Future
from dataclasses import dataclass
from pathlib import Path

import jinja2
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import PluginError
from mkdocs.structure.files import Files
from mkdocs.structure.nav import Link, Navigation
from mkdocs.structure.pages import Page

from engine.model.guide import Guide
from guide import setup_node
from guide.fault import ContentError
from guide.garbage import collect_seldom
from guide.processes import end_all
from guide.setup import SetupError, say
from site_src.build import explained, in_node, licenses, structured
from site_src.build.addresses import canonical, root_of, sitemap
from site_src.build.brand import color_of, picture_of, put_brand, put_on
from site_src.build.bundle import Made, begin, bundle
from site_src.build.drawn import DrawnPage, drawn_pages
from site_src.build.glossary import with_script
from site_src.build.in_node import BundleError
from site_src.build.offline import MARK, write_offline
from site_src.build.policy import with_policy
from site_src.build.report import draw_report
from site_src.build.styles import publish_styles
from site_src.build.theme_mends import mended
from site_src.build.tree import (
    Shell,
    draw_range_page,
    draw_staff_pages,
    lost_page,
    tree_addresses,
    write_tree,
)

collect_seldom()
STEPS = 4
NO_FIGURES = "project/"
"""Where the pages are on which the content says nothing."""
LOST, SITEMAP = "404.html", "sitemap.xml"


@dataclass
class _Begun:
    """What is made beside the explanatory pages; nothing where only those are drawn again."""

    packages: Path
    engine: Future[Made]
    pages: Iterator[DrawnPage]
    shell: Shell | None = None


_begun: list[_Begun] = []


def step(place: int, what: str) -> None:
    """Tell which step of the build begins."""
    say(f"[{place}/{STEPS}] {what}")


def on_config(config: MkDocsConfig) -> MkDocsConfig:
    """Keep what the shop explains in the navigation, and say where the site will lie."""
    try:
        guide = explained.guide()
    except ContentError as error:
        raise PluginError(str(error)) from error
    config.nav = explained.navigation_of(config.nav, guide)
    config.site_url = root_of(guide)
    put_on(config, guide)
    return config


def on_files(files: Files, *, config: MkDocsConfig) -> Files:
    """Leave out the pages of what the shop does not explain; publish the style sheets."""
    guide = explained.guide()
    kept = Files([each for each in files if not explained.is_left_out(each.src_uri, guide)])
    put_brand(kept, config, guide)
    publish_styles(kept, config)
    if os.environ.get("RIG_GUIDE_BUILD") not in ("pages", "figures"):
        _begin(guide)
    return kept


def _begin(guide: Guide) -> None:
    """Begin what takes long: the tree's processes before any thread, which they would not have."""
    step(1, "reading the content and the explanatory pages")
    try:
        packages, node = setup_node.packages(), setup_node.node()
        pages = drawn_pages(guide)
        _begun[:] = [_Begun(packages, begin(guide, packages, node), pages)]
    except (BundleError, ContentError, SetupError) as error:
        raise PluginError(str(error)) from error


def on_nav(nav: Navigation, *, config: MkDocsConfig, files: Files) -> Navigation:
    """Put the guide itself first in the navigation; its pages are not Markdown."""
    del config, files
    nav.items.insert(1, Link("Find your setup", "guide/index.html"))
    nav.items.append(Link("For staff", "staff/index.html"))
    return nav


def on_page_markdown(markdown: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Put the engine's figures, pictures and links into an explanatory page."""
    del config, files
    page.canonical_url = canonical(page.canonical_url or "")
    page.meta["tags"] = explained.sought(page.file.src_uri)
    if os.environ.get("RIG_GUIDE_BUILD") == "figures" and page.file.src_uri.startswith(NO_FIGURES):
        return ""  # it stays as it was drawn before; so much is left that links to it are right
    if page.file.src_uri == licenses.PAGE:
        return licenses.filled(markdown)
    try:
        return explained.filler().fill(markdown, page.file.src_uri)
    except (ContentError, explained.PageError) as error:
        raise PluginError(str(error)) from error


def on_page_content(html: str, *, page: Page, config: MkDocsConfig, files: Files) -> str:
    """Put the glossary behind its words; let wide tables scroll by themselves, by keyboard too."""
    del config, files
    told = explained.filler().told(html, page.file.src_uri)
    return explained.scrolling_tables(told)


def on_post_page(output: str, *, page: Page, config: MkDocsConfig) -> str:
    """Say what the page is and what it may load, put its pieces in, mend the theme."""
    root = "../" * page.url.count("/")
    shown = explained.with_piece(output, root, engine_list(Path(config.site_dir)))
    shown = with_script(shown, root)
    about = config.site_description or ""
    said = structured.parts_of(explained.guide(), page, config.site_name, about)
    told = shown.replace("</head>", f"{structured.block(said)}</head>", 1)
    return with_policy(mended(told))


def engine_list(site: Path) -> str:
    """The name of the engine's list of files; the first of them, where an edition was added."""
    if named := os.environ.get("RIG_GUIDE_ENGINE"):
        return named
    found = (site / "assets" / "engine").glob("engine-*.json")
    first = min(found, key=lambda file: file.stat().st_mtime_ns, default=None)
    return first.name if first else ""


def on_post_build(*, config: MkDocsConfig) -> None:
    """Write the tree, and list what a device keeps, once every file is there."""
    guide, site = explained.guide(), Path(config.site_dir)
    for begun in _begun:
        if begun.shell is not None:
            step(4, "drawing the guide's pages")
            try:
                write_tree(guide, site / "guide", begun.shell, begun.pages, say)
            except ContentError as error:
                raise PluginError(str(error)) from error
    about, color = config.site_description or "", color_of(guide, "brand")
    mark = picture_of(guide.shop.brand.logo) or MARK
    write_offline(site, config.site_name, about, guide.wording.page, color, mark)


def on_build_error(error: Exception) -> None:
    """End what was begun beside a page that failed: who reads the reason waits for nothing."""
    del error
    in_node.stop()
    end_all()
    _begun.clear()


def on_post_template(output: str, *, template_name: str, config: MkDocsConfig) -> str:
    """Add the guide's pages to the list of all pages, and its own one for unknown addresses."""
    if template_name == SITEMAP:
        return sitemap(output, tree_addresses(explained.guide()))
    if template_name != LOST:
        return output
    drawn = Path(config.site_dir) / LOST  # where only the pages are drawn again, it is there
    return str(config.extra.get(LOST) or (drawn.read_text("utf-8") if drawn.exists() else output))


def on_env(env: jinja2.Environment, *, config: MkDocsConfig, files: Files) -> None:
    """Bundle the engine and draw what hangs beside the tree: the theme's templates are there."""
    del files
    try:
        for begun in _begun:
            begun.shell = build_beside(env, config, begun)
    except (BundleError, ContentError, SetupError) as error:
        raise PluginError(str(error)) from error


def build_beside(env: jinja2.Environment, config: MkDocsConfig, begun: _Begun) -> Shell:
    """Write what the browser's engine needs and all pages of the guide that are not in the tree."""
    guide, site = explained.guide(), Path(config.site_dir)
    step(2, "bundling the engine for the browser")
    manifest = bundle(guide, site / "assets" / "engine", begun.packages, begun.engine)
    shell = Shell(env, config, manifest, guide.wording.page, guide.shop.estimate.form)
    draw_range_page(guide, site, shell)
    draw_staff_pages(guide, site, shell)
    config.extra[LOST] = lost_page(guide, site, shell)
    if os.environ.get("RIG_GUIDE_BUILD") == "report":
        draw_report(site, shell)
    step(3, "drawing the explanatory pages")
    return shell
