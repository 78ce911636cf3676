"""What a command writes to, whatever that can show and hold; standard library only.

A terminal may know few signs, an output may be a full disk or a reader that has gone. None of
these is a fault of the program: the signs are written in the nearest way, the rest is one line and
an exit code.
"""

import codecs
import contextlib
import os
import sys
import unicodedata
from collections.abc import Callable

from guide.fault import visible

UNDONE = 3
INTERRUPTED = 128 + 2
READER_GONE = 128 + 13
"""As a shell reports programs that the signals SIGINT and SIGPIPE ended."""
NEAREST = {
    "“": '"', "”": '"', "‘": "'", "’": "'", "–": "-", "—": "-", "−": "-", "…": "...", "×": "x",
    "·": "*", "•": "*", "→": "->", "›": ">", "≤": "<=", "≥": ">=", "≈": "~", "°": "deg ",
    "Ω": "ohm", "µ": "u", "μ": "u", "√": "sqrt", "Σ": "sum", "Δ": "delta", "α": "alpha",
    "η": "eta", "ρ": "rho", "π": "pi", "⌈": "ceil(", "⌉": ")", "⌊": "floor(", "⌋": ")",
    "█": "#", "░": ".", "€": "EUR ", "£": "GBP ", "¥": "JPY ",
}  # fmt: skip
"""How a sign is written where only the plainest are known; accents are left out besides."""


def prepare() -> None:
    """Let the outputs write any text, and the input be any bytes."""
    codecs.register_error("nearest", _nearest)
    codecs.register_error("json", _as_json)
    for name in ("stdin", "stdout", "stderr"):
        stream = getattr(sys, name)
        if stream is None:  # it was closed before the start
            setattr(sys, name, open(os.devnull, "r+", encoding="utf-8"))  # noqa: PTH123, SIM115
        elif hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace" if name == "stdin" else "nearest")


def guarded(run: Callable[[], int]) -> int:
    """The exit code of a command, whatever happens to what it reads and writes."""
    try:
        code = run()
        sys.stdout.flush()
    except BrokenPipeError:  # whoever read it has seen enough, as in `rig-guide answer … | head`
        code = READER_GONE
    except KeyboardInterrupt:
        code = INTERRUPTED
    except OSError as error:
        place = f"{visible(str(error.filename))}: " if error.filename else ""
        with contextlib.suppress(OSError):
            print(f"rig-guide: {place}{error.strerror or error}", file=sys.stderr, flush=True)
        code = UNDONE
    else:
        return code
    _let_go()
    return code


def print_json(text: str) -> None:
    """Print JSON, with escapes for what the output cannot show."""
    if hasattr(sys.stdout, "reconfigure"):
        sys.stdout.reconfigure(errors="json")
    print(text, flush=True)
    prepare()


def _let_go() -> None:
    """Keep Python from writing at its end what could not be written before."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except (OSError, ValueError):
            with contextlib.suppress(OSError, ValueError):
                os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _nearest(error: UnicodeError) -> tuple[str, int]:
    """The signs that come nearest to those that an output does not know."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    signs = error.object[error.start : error.end]
    return "".join(NEAREST.get(sign) or _plain(sign) for sign in signs), error.end


def _plain(sign: str) -> str:
    parts = unicodedata.normalize("NFKD", sign).replace("\u2044", "/")
    return "".join(part for part in parts if part.isascii()) or "?"


def _as_json(error: UnicodeError) -> tuple[str, int]:
    """The signs as JSON escapes them (RFC 8259, section 7)."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    units = error.object[error.start : error.end].encode("utf-16-be", "surrogatepass")
    pairs = (units[at : at + 2].hex() for at in range(0, len(units), 2))
    return "".join(f"\\u{pair}" for pair in pairs), error.end
