"""Read the transcriptions of published tables, which know nothing of the engine."""

from pathlib import Path
from typing import Any

from ruamel.yaml import YAML

PUBLISHED = Path(__file__).parent / "published"


def published(name: str) -> Any:
    """Contents of `tests/published/<name>.yaml`."""
    return YAML(typ="safe").load(PUBLISHED / f"{name}.yaml")
