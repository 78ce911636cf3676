"""What several kinds of test share: the site, built once a run; and who runs what."""

import gc
import subprocess
import sys
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import hypothesis
import pytest
from xdist.remote import Producer

from engine.model.guide import Guide
from guide.garbage import collect_seldom
from guide.site import pack_built
from tests.by_file import ByFile
from tests.guide.shops import dearer_shop, demo, other_shop
from tests.once import beside, folder_of_run, made_once, make_once
from tests.pages.conftest import Case, tree_of

HERE = Path(__file__).parent
collect_seldom()
hypothesis.settings.register_profile(
    "any machine",  # on a busy one too: no example is failed for the time that it takes
    deadline=None,
    suppress_health_check=[hypothesis.HealthCheck.too_slow],
)
hypothesis.settings.load_profile("any machine")

LAST = (HERE / "site", HERE / "browser")
"""Folders whose tests need the built site: they wait least when the others come before them."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put tests that need the site last."""
    items.sort(key=place_of)


def pytest_collection_finish() -> None:
    """Look for no garbage among what was read for the whole run."""
    gc.freeze()


def place_of(item: pytest.Item) -> int:
    """When a test's turn comes; those of one place keep their order."""
    folders = [place for place, folder in enumerate(LAST) if folder in item.path.parents]
    return 1 + folders[0] if folders else 0


def build_site(out: Path, *options: str) -> None:
    """Build a site into a folder; what is printed goes into a file beside it."""
    said = beside(out, "log")
    command = [sys.executable, "-m", "guide.cli", "build", "--out", str(out), *options]
    with said.open("w") as log:
        code = subprocess.run(command, stdout=log, stderr=log, cwd=HERE.parent, check=False)
    if code.returncode:
        told = said.read_text("utf-8").strip().splitlines()
        raise RuntimeError(f"{' '.join(told[-2:])} (all of it: {said})")


@pytest.fixture(scope="session")
def of_run(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that all processes of this run share."""
    return folder_of_run(tmp_path_factory)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Producer) -> ByFile | None:
    """Let each process take a file after the other, where pytest does not say otherwise."""
    return ByFile(config, log) if config.getvalue("dist") == "loadscope" else None


@pytest.fixture(scope="session", autouse=True)
def _site_is_begun(request: pytest.FixtureRequest, of_run: Path) -> Iterator[None]:
    """Where tests will need the site, begin to build it beside the first of them."""
    needed = any("site" in getattr(item, "fixturenames", ()) for item in request.session.items)
    builder = threading.Thread(target=make_once, args=(of_run / "site", build_site))
    if needed:
        builder.start()
    yield
    if needed:
        builder.join()


@pytest.fixture(scope="session")
def site(of_run: Path) -> Path:
    """The folder of a freshly built site; nobody changes anything in it."""
    return made_once(of_run / "site", build_site)


@pytest.fixture(scope="session")
def packed(site: Path, of_run: Path) -> Path:
    """The folder that `rig-guide pack` makes of the built site; nobody changes anything in it."""
    return made_once(of_run / "stick", lambda out: pack_built(site, out))


@dataclass(frozen=True)
class OtherSite:
    """The second shop: its content before and after a price was edited, and today's site."""

    folder: Path

    @property
    def sent(self) -> Path:
        """The content as it was before."""
        return self.folder / "sent"

    @property
    def today(self) -> Path:
        """The content as it is now, with the former edition kept."""
        return self.folder / "today"

    @property
    def site(self) -> Path:
        """The site of today's content."""
        return self.folder / "site"

    @property
    def said(self) -> Path:
        """What was printed while it was built."""
        return beside(self.site, "log")


@pytest.fixture(scope="session")
def other_shop_site(of_run: Path) -> OtherSite:
    """The site of the second shop, a price of which was edited; nobody changes anything in it."""

    def make(folder: Path) -> None:
        made = OtherSite(folder)
        dearer_shop(other_shop(made.sent), made.today)
        build_site(made.site, "--content", str(made.today))

    return OtherSite(made_once(of_run / "other-shop", make))


@pytest.fixture(scope="session")
def guide() -> Guide:
    """The demo's guide."""
    return demo()


@pytest.fixture(scope="session")
def tree(guide: Guide) -> tuple[Case, ...]:
    """Every recommendation among the static pages, drawn once a process."""
    return tree_of(guide)
