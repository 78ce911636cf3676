"""Spelling, by codespell's lists: of everything, and American spelling of what customers read."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from guide.setup import ROOT
from tests.guide.shops import demo
from tests.prose.texts import of_content, of_pages

EVERYTHING = (
    *("guide", "engine", "site_src", "tests", "requirements"),
    *("README.md", "DEVELOPERS.md", "CHANGELOG.md", "mkdocs.yml", "pyproject.toml"),
)
CODE = re.compile(r"^```.*?^```|`[^`\n]*`", re.MULTILINE | re.DOTALL)
LEFT_OUT = (
    "node_modules,*.json,*.svg,*.png,*.pyc,*.zip,bad_content,published,style.yaml,ignored.txt"
)
"""What is not written here, is wrong by intent, or lists what is wrong."""
IGNORED = Path(__file__).with_name("ignored.txt")
"""Words that are right here, one a line."""


def misspelt(folder: Path, lists: str, *names: str) -> list[str]:
    command = [sys.executable, "-m", "codespell_lib", "--builtin", lists, "--skip", LEFT_OUT]
    command += ["--ignore-words", str(IGNORED), *names]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    assert done.returncode in (0, 65), done.stderr  # 65: some word was found
    return done.stdout.splitlines()


def test_everything_is_spelt_right() -> None:
    assert misspelt(ROOT, "clear,rare", *EVERYTHING) == []


def test_what_people_read_is_spelt_as_americans_do(tmp_path: Path) -> None:
    for each in (*of_content(), *of_pages(demo())):
        file = tmp_path / f"{each.name.replace('/', '.')}.txt"
        file.write_text(CODE.sub("", each.text), "utf-8")
    assert misspelt(tmp_path, "en-GB_to_en-US", ".") == []


@pytest.mark.parametrize(
    ("lists", "text"),
    [("clear,rare", "The bat\u0065ry is full."), ("en-GB_to_en-US", "Two metres.")],
)
def test_a_misspelt_word_is_found(tmp_path: Path, lists: str, text: str) -> None:
    (tmp_path / "page.md").write_text(f"Good.\n{text}\n", "utf-8")
    found = misspelt(tmp_path, lists, "page.md")
    assert [line.split(": ")[0] for line in found] == ["./page.md:2"] or found[0].startswith(
        "page.md:2"
    )


def test_no_word_is_ignored_that_stands_nowhere() -> None:
    read = " ".join(
        file.read_text("utf-8", errors="ignore")
        for name in ("guide", "engine", "site_src", "tests")
        for file in (ROOT / name).rglob("*")
        if file.suffix in (".py", ".yaml", ".md", ".js", ".html", ".css")
        and "node_modules" not in file.parts
    ).lower()
    words = IGNORED.read_text("utf-8").split()
    assert words
    assert [word for word in words if word not in read] == []
