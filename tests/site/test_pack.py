"""Making a folder that opens without a server: modules, links, policy."""

import re
import subprocess
from pathlib import Path

import pytest

from guide import setup_node
from site_src.build.joined import JoinError, join, joined
from site_src.build.pack import PackError, folder_policy, for_folder


def test_modules_become_one_script_that_does_the_same(tmp_path: Path) -> None:
    (tmp_path / "one.js").write_text(
        "export const A = 1;\nexport function f(x) { return x + A; }\n"
    )
    (tmp_path / "two.mjs").write_text("const g = 5;\nfunction h() {}\nexport default g;\n")
    (tmp_path / "three.js").write_text("var q = 7;\nexport{q as shown};\n")
    (tmp_path / "main.js").write_text(
        'import { A, f as plus } from "./one.js";\n'
        'import five from "./two.mjs";\nimport { shown } from "./three.js";\n'
        "console.log(plus(A) + five + shown, import.meta.url);\n"
    )
    script = tmp_path / "plain.cjs"
    script.write_text(joined(tmp_path, "main.js").replace("import.meta.url", '"here"'))
    done = subprocess.run([setup_node.node(), script], capture_output=True, text=True, check=True)
    assert done.stdout == "14 here\n"


def test_what_pages_start_is_joined_and_what_the_worker_needs_stays(tmp_path: Path) -> None:
    texts = {
        "page.js": 'import { A } from "./both.js";\nimport { B } from "./ours.js";\nuse(A, B);\n',
        "staff.js": 'import { B } from "./ours.js";\nimport { P } from "./page.js";\nuse(B, P);\n',
        "worker.js": 'import { A } from "./both.js";\nuse(A);\n',
        "both.js": "export const A = 1;\n",
        "ours.js": "export const B = 2;\n",
    }
    texts["page.js"] += "export const P = 3;\n"
    for name, text in texts.items():
        (tmp_path / name).write_text(text)
    join(tmp_path, ("page.js", "staff.js"), "worker.js")
    left = {file.name: file.read_text() for file in tmp_path.iterdir()}
    assert left.keys() == texts.keys() - {"ours.js"}
    assert {name: left[name] for name in ("worker.js", "both.js")} == {
        name: texts[name] for name in ("worker.js", "both.js")
    }
    for name in ("page.js", "staff.js"):
        assert "export" not in left[name]
        assert all(f'modules["{part}"]=' in left[name] for part in ("page.js", "ours.js"))


def test_what_only_authors_read_is_left_out_and_what_a_script_does_stays(tmp_path: Path) -> None:
    (tmp_path / "page.js").write_text(
        "// what it is for\n/** What it returns. */\n"
        'const text = "// no comment";\nconst pattern = /[/]\\* "/;\n'
        "const whole = `a  ${ text /* why */ }  // b`;\n"
        "console.log(whole, pattern.test('/* \"'), 1 + +1);\n"
    )
    (tmp_path / "worker.js").write_text("1;\n")
    join(tmp_path, ("page.js",), "worker.js")
    script = tmp_path / "page.js"
    assert not re.search("what it is for|What it returns", script.read_text())
    done = subprocess.run([setup_node.node(), script], capture_output=True, text=True, check=True)
    assert done.stdout == "a  // no comment  // b true 2\n"


@pytest.mark.parametrize("form", ["export * from './x.js';", "import './x.js';"])
def test_other_forms_of_modules_stop_the_build(tmp_path: Path, form: str) -> None:
    (tmp_path / "main.js").write_text(form + "\n")
    with pytest.raises(JoinError, match=r"main\.js"):
        joined(tmp_path, "main.js")


@pytest.mark.parametrize(
    ("link", "whole"),
    [
        ('href="rig=van/"', 'href="rig=van/index.html"'),
        ('href="../../#cable=9ft"', 'href="../../index.html#cable=9ft"'),
        ('href="../index.html"', 'href="../index.html"'),
        ('href="#rig-title"', 'href="#rig-title"'),
        ('href="https://guide.example/"', 'href="https://guide.example/"'),
        ('href="mailto:x@y.example"', 'href="mailto:x@y.example"'),
    ],
)
def test_links_to_folders_name_their_page(link: str, whole: str) -> None:
    assert for_folder(f"<a {link}>", set(), "") == f"<a {whole}>"


def test_a_script_that_was_not_made_plain_is_refused() -> None:
    with pytest.raises(PackError, match=r"new\.js"):
        for_folder('<script type="module" src="assets/engine/new.js"></script>', {"page"}, "")


def test_a_folder_s_policy_allows_no_more_than_files_and_its_own_worker() -> None:
    policy = folder_policy("default-src 'none'; script-src 'self' 'sha256-x'; worker-src 'self'")
    assert policy == (
        "default-src 'none'; script-src blob: 'self' file: 'sha256-x'; "
        "worker-src blob: 'self' file:"
    )
