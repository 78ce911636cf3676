"""Read the transcriptions of published tables, which know nothing of the engine."""

from pathlib import Path
from typing import Any

from guide.yaml_text import values_of

PUBLISHED = Path(__file__).parent / "published"


def published(name: str) -> Any:
    """Contents of `tests/published/<name>.yaml`."""
    return values_of(PUBLISHED / f"{name}.yaml")
