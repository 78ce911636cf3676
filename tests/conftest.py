"""What several kinds of test share: the site, built once a run."""

import subprocess
import sys
from pathlib import Path

import pytest

from engine.model.guide import Guide
from guide.load import load_guide

HERE = Path(__file__).parent
USERS_OF_THE_SITE = (HERE / "site", HERE / "browser")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Keep tests that use the built site in one process, so that it is built once."""
    for item in items:
        if any(folder in item.path.parents for folder in USERS_OF_THE_SITE):
            item.add_marker(pytest.mark.xdist_group("site"))


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a freshly built site."""
    out = tmp_path_factory.mktemp("built") / "site"
    command = [sys.executable, "-m", "guide.cli", "build", "--out", str(out)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return out


@pytest.fixture(scope="session")
def guide() -> Guide:
    """The demo's guide."""
    return load_guide()
