"""Serves a folder for as long as a test or a measurement needs it."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path

from guide.server import FRESH, Handler, Server, listening


class Lasting(Handler):
    """Has browsers keep scripts and styles for an hour, so that they compile each once."""

    def end_headers(self) -> None:
        """Say so in the head of the reply."""
        is_code = self.path.endswith((".js", ".mjs", ".css"))
        self.kept = "max-age=3600" if is_code else FRESH
        super().end_headers()


@contextmanager
def served(folder: Path, kept: str = FRESH, handler: type[Handler] = Handler) -> Iterator[str]:
    """The address of a server of a folder.

    kept: what browsers are told of keeping its files
    handler: how it answers, where not as a careful server does
    """
    answers = partial(handler, directory=str(folder), kept=kept)
    with Server(listening(0), answers) as server:
        thread = threading.Thread(target=server.serve_forever, args=(0.05,))
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_port}"
        finally:
            server.shutdown()
            thread.join()
