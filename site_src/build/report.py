"""The coverage report as a page of the site."""

from dataclasses import dataclass
from pathlib import Path

from guide.coverage import cover
from guide.load import load_content
from guide.reports import coverage_html
from guide.setup import say
from site_src.build.tree import Shell, general_preview, stamp

PATH = "coverage/"


@dataclass(frozen=True, slots=True)
class ReportPage:
    """The report, ready to be put into a shell."""

    html: str
    title: str = "Coverage"
    description: str = "Every page of the guide, walked: what is asked, and what is wrong."
    path: str = PATH


def draw_report(site: Path, shell: Shell) -> None:
    """Walk the tree and write what was found as coverage/index.html."""
    say("      walking every page for the coverage report")
    content = load_content()
    page = ReportPage(coverage_html(content.guide, cover(content.guide, content.coverage)))
    file = site / PATH / "index.html"
    file.parent.mkdir(parents=True, exist_ok=True)
    preview = general_preview(content.guide, site, page.title)
    shown = stamp(shell.parts("question", PATH.count("/")), page, preview)
    file.write_bytes(shown.encode())
