"""What a build begins beside its pages ends with a build that fails."""

import os
import time
from concurrent.futures import ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from pathlib import Path

import pytest

from guide import setup_node
from guide.processes import end_all, in_processes
from site_src.build import in_node

FOR_EVER = """import fs from "node:fs";
setInterval(() => {}, 1000);
fs.writeFileSync(process.argv[3], "");
"""


def test_what_runs_in_node_ends_at_once(tmp_path: Path) -> None:
    script, began = tmp_path / "for-ever.mjs", tmp_path / "began"
    script.write_text(FOR_EVER)
    node, packages = setup_node.node(), setup_node.packages()
    with ThreadPoolExecutor(1) as pool:
        running = pool.submit(in_node.run, node, script, packages, began, what="it was ended")
        while not began.exists() and not running.done():
            time.sleep(0.01)
        in_node.stop()
        with pytest.raises(in_node.BundleError, match="it was ended"):
            running.result()
    assert began.exists()


def test_processes_that_nobody_waits_for_end_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    results = in_processes(time.sleep, [86_400.0, 86_400.0])
    end_all()
    with pytest.raises(BrokenProcessPool):
        next(results)
