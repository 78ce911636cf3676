"""Terms and the length of sentences, by textlint: content, pages, drawn questions and answers."""

import json
import subprocess
from collections.abc import Iterable
from pathlib import Path

import pytest

from guide import setup_node
from tests.guide.shops import demo
from tests.prose.texts import Prose, blocks, of_content, of_drawn, of_pages

FOLDER = Path(__file__).parent


def faults(folder: Path, prose: Iterable[Prose]) -> list[str]:
    """What textlint, installed as locked, says of these texts."""
    packages = setup_node.packages(FOLDER, "textlint")
    for at, each in enumerate(prose):
        (folder / f"{at}.md").write_text(f"<!-- {each.name} -->\n\n{each.text}", "utf-8")
    command = [setup_node.node(), str(packages / "textlint" / "bin" / "textlint.js")]
    command += ["--config", "textlintrc.json", "--format", "json", str(folder)]
    done = subprocess.run(command, cwd=FOLDER, capture_output=True, text=True, check=False)
    assert done.returncode in (0, 1), done.stderr
    return [fault for file in json.loads(done.stdout) for fault in _told(file)]


def _told(file: dict[str, object]) -> Iterable[str]:
    lines = Path(str(file["filePath"])).read_text("utf-8").splitlines()
    messages = file["messages"]
    assert isinstance(messages, list)
    for each in messages:
        read = lines[each["line"] - 1][:200]
        yield f"{lines[0]} {each['message']}: {read}"


def test_texts_keep_to_terms_and_to_short_sentences(tmp_path: Path) -> None:
    guide = demo()
    prose = [*of_content(), *of_pages(guide), *of_drawn(guide)]
    assert len(prose) > 60
    assert all(each.text.strip() for each in of_drawn(guide))
    assert faults(tmp_path, prose) == []


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Write some javascript.", "JavaScript"),
        ("This " + "is a very " * 12 + "long sentence.", "maximum word count"),
    ],
)
def test_a_fault_is_found_with_its_page(tmp_path: Path, text: str, told: str) -> None:
    found = faults(tmp_path, [Prose("one page", f"Good.\n\n{text}\n")])
    assert len(found) == 1
    assert told in found[0]
    assert "one page" in found[0]


def test_a_drawn_page_is_read_block_by_block() -> None:
    drawn = '<h2>Head</h2><p>One &amp; two.</p><span class="rig-source">NEC</span><p>Three.</p>'
    assert blocks(drawn) == ["Head", "One & two.", "Three."]
