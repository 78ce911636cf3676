"""``python -m tests.bench lighthouse``: Lighthouse, which is locked in tests/lighthouse.

It looks as a middling phone on a slow mobile network. ``--write`` puts the table into the
documentation, ``--site FOLDER`` takes a site that is built already, ``--why`` names what costs.
"""

import argparse
import json
import os
import statistics
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from guide import setup_browser, setup_node, site
from guide.setup import say
from tests import bench_page
from tests.browser.chromium import ARGUMENTS
from tests.browser.kinds import ANSWER
from tests.browser.serving import served

FOLDER = Path(__file__).parent / "lighthouse"
TIMES = 3
PAGES = {
    "first page": "index.html",
    "a question": "guide/rig=coach-50/scope=whole/heavy=2/",
    "an answer": ANSWER,
    "an explanatory page": "explained/cable.html",
}
LEAST = {"performance": 95, "accessibility": 100, "best-practices": 95, "seo": 95}
TIMED = ("first-contentful-paint", "largest-contentful-paint", "total-blocking-time")

Report = dict[str, Any]


def reports(address: str) -> Iterator[Report]:
    """What Lighthouse says of a page, several times."""
    packages = setup_node.packages(FOLDER, "Lighthouse")
    command = [
        setup_node.node(),
        str(packages / "lighthouse" / "cli" / "index.js"),
        address,
        "--output=json",
        "--quiet",
        "--no-enable-error-reporting",
        f"--chrome-flags=--headless=new {' '.join(ARGUMENTS)}",
    ]
    environment = {**os.environ, "CHROME_PATH": setup_browser.require_whole()}
    for _ in range(TIMES):
        done = subprocess.run(command, capture_output=True, text=True, env=environment, check=False)
        if done.returncode:
            raise RuntimeError(f"Lighthouse failed at {address}: {done.stderr[-800:]}")
        yield json.loads(done.stdout)


def score(found: Sequence[Report], category: str) -> int:
    """The median of a category's scores, of 100."""
    scores = [float(each["categories"][category]["score"]) for each in found]
    return round(100 * statistics.median(scores))


def middle(found: Sequence[Report], audit: str) -> float:
    """The median of what an audit measured: milliseconds, or a shift in parts of the window."""
    return statistics.median([float(each["audits"][audit]["numericValue"]) for each in found])


def costs(report: Report) -> Iterator[str]:
    """What keeps a page from the full score."""
    for category in LEAST:
        for part in report["categories"][category]["auditRefs"]:
            audit = report["audits"][part["id"]]
            if part["weight"] and audit["score"] is not None and audit["score"] < 1:
                yield f"{category}: {audit['title']} {audit.get('displayValue', '')}"


def main(arguments: Sequence[str]) -> None:
    """Print the table; with ``--write`` put it into the page of the documentation."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench lighthouse")
    parser.add_argument("--site", type=Path, help="a site that is built already")
    parser.add_argument("--write", action="store_true", help="into the documentation")
    parser.add_argument("--why", action="store_true", help="name what costs points")
    asked = parser.parse_args(arguments)
    lines = [
        f"| page | {' | '.join(LEAST)} | first paint | largest paint | blocked | shift |",
        "|---|---|---|---|---|---|---|---|---|",
        f"| must reach | {' | '.join(map(str, LEAST.values()))} | – | – | – | – |",
    ]
    with tempfile.TemporaryDirectory() as folder:
        built = asked.site or Path(folder) / "site"
        if asked.site is None:
            site.build(built)
        with served(built) as address:
            for name, path in PAGES.items():
                found = list(reports(f"{address}/{path}"))
                scores = " | ".join(str(score(found, category)) for category in LEAST)
                times = " | ".join(f"{middle(found, audit) / 1000:.2f} s" for audit in TIMED)
                shift = middle(found, "cumulative-layout-shift")
                lines.append(f"| {name} | {scores} | {times} | {shift:.3f} |")
                say(lines[-1])
                if asked.why:
                    say("\n".join(f"  {cost}" for cost in costs(found[-1])))
    table = "\n".join(lines) + "\n"
    print(table)
    if asked.write:
        bench_page.put("lighthouse", f"medians of {TIMES} looks", table)
