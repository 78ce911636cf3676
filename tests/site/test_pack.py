"""Making a folder that opens without a server: modules, links, policy."""

import subprocess
from pathlib import Path

import pytest

from guide import setup_node
from site_src.build.classic import ClassicError, classic
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
    script.write_text(classic(tmp_path, "main.js", '"here"'))
    done = subprocess.run([setup_node.node(), script], capture_output=True, text=True, check=True)
    assert done.stdout == "14 here\n"


@pytest.mark.parametrize("form", ["export * from './x.js';", "import './x.js';"])
def test_other_forms_of_modules_stop_the_build(tmp_path: Path, form: str) -> None:
    (tmp_path / "main.js").write_text(form + "\n")
    with pytest.raises(ClassicError, match=r"main\.js"):
        classic(tmp_path, "main.js", '""')


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
