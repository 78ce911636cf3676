"""Serves a folder and counts what it sends: the bytes of bodies as they are on the way."""

from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, ClassVar

from guide.server import Handler
from tests.browser.serving import served


@contextmanager
def counted(folder: Path, kept: str) -> Iterator[tuple[str, Counter[str]]]:
    """The address of a server of a folder, and what it has sent of each file until now."""

    class Counts(Handler):
        sent: ClassVar[Counter[str]] = Counter()

        def copyfile(self, source: Any, outputfile: Any) -> None:
            body = source.read()
            outputfile.write(body)
            self.sent[self.path] += len(body)

    with served(folder, kept, Counts) as address:
        yield address, Counts.sent
