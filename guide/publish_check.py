"""``rig-guide publish-check``: what the host of a published site does otherwise than it should.

Each rule reads what the host sent and returns what is wrong, with its mend. The list of files with
their hashes is the one that the site's own service worker has.
"""

import base64
import hashlib
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import PurePosixPath

from guide.published import LIST, Listed, Published, Reply, listed_in

TREE = "guide/"
EVERY = 25
"""Of the many pages of the tree, one of so many is asked for, unless all are wanted."""
SHOWN = 3
STRANGE = f"{TREE}rig=no-such-rig/at=all/"
FIRST = f"{TREE}index.html"
SCRIPT_TYPES = ("text/javascript", "application/javascript")
TYPES: dict[str, tuple[str, ...]] = {
    ".html": ("text/html",),
    ".css": ("text/css",),
    ".js": SCRIPT_TYPES,
    ".mjs": SCRIPT_TYPES,
    ".svg": ("image/svg+xml",),
    ".png": ("image/png",),
    ".json": ("application/json",),
    ".webmanifest": ("application/manifest+json",),
    ".gz": ("application/gzip", "application/x-gzip"),
}
STRICT = (".html", ".css", ".js", ".mjs", ".svg", ".png")
"""What a browser refuses, or shows as text, where its type is another."""
TEXTS = (".html", ".css", ".js", ".mjs", ".json", ".svg")
WORTH_PACKING_BYTES = 2_000
PACKED = (".gz", ".zip", ".png", ".wasm", ".whl")
GZIP = b"\x1f\x8b"
"""How such a file begins; a copy in Brotli holds what is in it (guide/precompress.py)."""
HASHED = re.compile(r"assets/engine/engine-[0-9a-f]{12}\.")
MAX_AGE = re.compile(r"max-age=(\d+)")
LONG_S = 86_400
ENGINE = re.compile(r'data-engine="(engine-[0-9a-f]{12}\.json)"')
CANONICAL = re.compile(r'<link rel="canonical" href="([^"]*)"')
HEADS = {
    "x-content-type-options": ("nosniff", "X-Content-Type-Options: nosniff"),
    "referrer-policy": ("no-referrer", "Referrer-Policy: no-referrer"),
}


@dataclass(frozen=True, slots=True)
class Finding:
    """Something that a host does wrong.

    breaks: whether people meet it; otherwise it costs time or bytes only
    """

    what: str
    mend: str
    names: tuple[str, ...] = ()
    breaks: bool = True

    @property
    def text(self) -> str:
        """The finding in three lines at most."""
        others = len(self.names) - SHOWN
        more = f" and {others} more" if others > 0 else ""
        place = f"\n    at: {', '.join(self.names[:SHOWN])}{more}" if self.names else ""
        verdict = "wrong" if self.breaks else "could be better"
        return f"{verdict}: {self.what}{place}\n    mend: {self.mend}"


@dataclass(frozen=True, slots=True)
class Seen:
    """What a host sent: files of the list, and addresses that are no files."""

    site: Published
    listed: dict[str, Listed]
    files: dict[str, Reply]
    folder: Reply
    bare: Reply
    strange: Reply

    def names(self, holds: Callable[[str, Reply], bool]) -> tuple[str, ...]:
        """Names of the files of which something holds."""
        return tuple(name for name, reply in self.files.items() if holds(name, reply))


def check_published(
    site: Published, tell: Callable[[int, int], None], *, whole: bool = False
) -> list[Finding]:
    """Ask a published site for its files and return what its host does wrong.

    whole: ask for every page, not for some of the tree

    Raises
    ------
    SetupError : if the host does not answer.
    """
    worker = site.get(LIST)
    listed = {each.name: each for each in listed_in(worker.body.decode("utf-8", "replace"))}
    if worker.status != 200 or not listed:
        return [
            Finding(
                f"{site.address}{LIST} is not there (status {worker.status})",
                "Is this the address of the folder that holds index.html? If it is, upload the "
                "whole folder once more.",
            )
        ]
    tree = [name for name in listed if name.startswith(TREE) and name != FIRST]
    left_out = set() if whole else set(tree) - set(tree[::EVERY])
    files = site.get_all([name for name in listed if name not in left_out], tell)
    seen = Seen(site, listed, files, site.get(TREE), site.get(TREE.rstrip("/")), site.get(STRANGE))
    return [finding for rule in RULES for finding in rule(seen)]


def missing(seen: Seen) -> Iterator[Finding]:
    """Files that are not there."""
    gone = seen.names(lambda _, reply: reply.status >= 400)
    hidden = tuple(name for name in gone if PurePosixPath(name).name.startswith(("_", ".")))
    if hidden:
        yield Finding(
            "the host hides files whose names begin with an underscore",
            "Upload the hidden file .nojekyll too, or switch off what makes pages on the host.",
            hidden,
        )
    if others := tuple(name for name in gone if name not in hidden):
        yield Finding("files are missing", "Upload the whole folder once more.", others)


def redirected(seen: Seen) -> Iterator[Finding]:
    """Files for which the host sends somewhere else."""
    sent = seen.names(lambda _, reply: 300 <= reply.status < 400)
    if pages := tuple(name for name in sent if name.endswith(".html")):
        where = seen.files[pages[0]].heads.get("location", "nowhere")
        yield Finding(
            f"the host sends browsers from pages to another address ({pages[0]} to {where})",
            "Switch off “pretty” or “clean” addresses: each page takes a second request.",
            pages,
            breaks=False,
        )
    if others := tuple(name for name in sent if name not in pages):
        where = seen.files[others[0]].heads.get("location", "nowhere")
        yield Finding(
            f"the host sends browsers from files to another address (as {where})",
            "Name the address to which it sends, or publish at the address that people use.",
            others,
        )


def foreign(seen: Seen) -> Iterator[Finding]:
    """A web page in the place of something else."""
    wrong = seen.names(
        lambda name, reply: reply.status == 200 and reply.is_page and not name.endswith(".html")
    )
    if wrong:
        yield Finding(
            "a web page comes in the place of files",
            "Switch off the rule that answers every address with one page, and any login.",
            wrong,
        )


def changed(seen: Seen) -> Iterator[Finding]:
    """Files whose bytes are not those of the published list."""
    wrong = seen.names(
        lambda name, reply: (
            reply.status == 200
            and not (reply.is_page and not name.endswith(".html"))
            and seen.listed[name].hashes.isdisjoint({_hash(reply.body), _hash(reply.sent)})
        )
    )
    if not wrong:
        return
    engines = set(filter(None, map(_engine_of, seen.files.values())))
    if len(engines) > 1:
        yield Finding(
            f"pages of several editions are mixed ({', '.join(sorted(engines))})",
            "The upload is not finished, or the host keeps older pages: upload the whole folder, "
            "then empty the host's cache.",
            wrong,
        )
    else:
        yield Finding(
            "files are not as they were built",
            "Upload them once more as binary files. If that does not help, switch off what the "
            "host does to pages (minifying, scripts for statistics, hidden email addresses), and "
            "empty its cache.",
            wrong,
        )


def _hash(data: bytes) -> str:
    return f"sha256-{base64.b64encode(hashlib.sha256(data).digest()).decode()}"


def _engine_of(reply: Reply) -> str:
    found = ENGINE.search(reply.body.decode("utf-8", "replace")) if reply.is_page else None
    return found[1] if found else ""


def types(seen: Seen) -> Iterator[Finding]:
    """Content types that browsers refuse, or that are only not exact."""
    by_suffix: dict[str, list[str]] = {}
    for name, reply in seen.files.items():
        suffix = PurePosixPath(name).suffix
        if reply.status == 200 and suffix in TYPES and reply.kind not in TYPES[suffix]:
            by_suffix.setdefault(suffix, []).append(name)
    for suffix, names in sorted(by_suffix.items()):
        kind = seen.files[names[0]].kind or "none"
        yield Finding(
            f"the Content-Type of {suffix} is {kind}",
            f"Set it to {TYPES[suffix][0]}. Add it to the host's types; do not replace them all.",
            tuple(names),
            breaks=suffix in STRICT,
        )


def compression(seen: Seen) -> Iterator[Finding]:
    """Texts that come uncompressed, and what is compressed that was so already."""
    plain = seen.names(
        lambda name, reply: (
            reply.status == 200
            and PurePosixPath(name).suffix in TEXTS
            and not reply.encoding
            and len(reply.sent) > WORTH_PACKING_BYTES
        )
    )
    if plain:
        yield Finding(
            "texts come uncompressed, six times as long as they need to be",
            "Switch on gzip or brotli for pages, styles, scripts, JSON and SVG.",
            plain,
            breaks=False,
        )
    twice = seen.names(
        lambda name, reply: (
            bool(reply.encoding)
            and PurePosixPath(name).suffix in PACKED
            and not (reply.encoding == "br" and reply.body[:2] != GZIP)
        )
    )
    if twice:
        yield Finding(
            "what is compressed already is compressed again, or called compressed for the way",
            "Send .gz, .zip, .whl and .png as they are, with no Content-Encoding.",
            twice,
            breaks=False,
        )


def caching(seen: Seen) -> Iterator[Finding]:
    """Files that browsers keep too long, or not at all."""
    stale, short = [], []
    for name, reply in seen.files.items():
        age, said = age_s(reply), reply.heads.get("cache-control", "")
        if reply.status != 200:
            continue
        if HASHED.match(name):
            if age < LONG_S:
                short.append(name)
        elif age and "no-cache" not in said:
            stale.append((age, name))
    if stale:
        longest = max(stale)[0]
        yield Finding(
            f"browsers keep pages and scripts for up to {longest} seconds without asking",
            "Send Cache-Control: no-cache. After an update a page would meet scripts of another "
            "edition.",
            tuple(name for _, name in stale),
            breaks=longest >= LONG_S,
        )
    if short:
        yield Finding(
            "browsers ask again for the engine, whose names change with what is in it",
            "Send Cache-Control: public, max-age=31536000, immutable for assets/engine/engine-….",
            tuple(short),
            breaks=False,
        )


def age_s(reply: Reply) -> int:
    """For how long a browser may keep it without asking [s]."""
    found = MAX_AGE.search(reply.heads.get("cache-control", ""))
    return int(found[1][:10]) if found else 0


def addresses(seen: Seen) -> Iterator[Finding]:
    """Addresses of folders, with their slash and without, and those that are none."""
    if seen.folder.status != 200 or not seen.folder.is_page:
        yield Finding(
            f"the address of a folder shows no page (status {seen.folder.status})",
            "Let the host show index.html for a folder; where it cannot, take another host.",
            (TREE,),
        )
    bare = seen.bare
    if bare.status == 200 and "data-kind" in bare.body.decode("utf-8", "replace"):
        yield Finding(
            "a folder's address without its slash shows the page in place: its links lead nowhere",
            "Let the host send browsers to the address with the slash.",
            (TREE.rstrip("/"),),
        )
    if 300 <= bare.status < 400 and not _leads_to_folder(seen):
        where = bare.heads.get("location", "nowhere")
        yield Finding(
            f"a folder's address without its slash leads to {where}",
            "Let it lead to the same address with a slash.",
            (TREE.rstrip("/"),),
        )
    is_lost = b'data-kind="lost"' in seen.strange.body
    if not is_lost:
        yield Finding(
            f"an unknown address does not show 404.html (status {seen.strange.status})",
            "Name 404.html, in the site's own folder, as the page for errors. Links of older "
            "editions need it.",
            (STRANGE,),
        )
    elif seen.strange.status != 404:
        yield Finding(
            f"404.html comes with status {seen.strange.status}",
            "Let it come with status 404, or search engines list what is not there.",
            (STRANGE,),
            breaks=False,
        )


def _leads_to_folder(seen: Seen) -> bool:
    place = f"{seen.site.folder}{TREE}"
    return seen.bare.heads.get("location", "") in (place, f"{seen.site.address}{TREE}")


def heads(seen: Seen) -> Iterator[Finding]:
    """Headers that guard people, and the address by which the guide calls itself."""
    page = seen.files[FIRST]
    lacking = [
        head for name, (value, head) in HEADS.items() if page.heads.get(name, "").lower() != value
    ]
    if "frame-ancestors" not in page.heads.get("content-security-policy", ""):
        lacking.append("Content-Security-Policy: frame-ancestors 'none'")
    if seen.site.scheme == "https" and "strict-transport-security" not in page.heads:
        lacking.append("Strict-Transport-Security: max-age=31536000")
    if lacking:
        told = "; ".join(lacking)
        yield Finding("headers are missing", f"Send {told}.", breaks=False)
    if seen.site.scheme == "http" and seen.site.host not in ("localhost", "127.0.0.1"):
        yield Finding(
            "the site is not served by HTTPS: nobody can keep it on a device",
            "Get a certificate for the host, and send browsers from http: to https:.",
        )
    named = CANONICAL.search(page.body.decode("utf-8", "replace"))
    if named and named[1] != f"{seen.site.address}{TREE}":
        yield Finding(
            f"the guide calls itself {named[1].removesuffix(TREE)}: its links and codes lead there",
            "Write the address of the site into shop.yaml (site:), and build again.",
            breaks=False,
        )


RULES: tuple[Callable[[Seen], Iterator[Finding]], ...] = (
    missing, redirected, foreign, changed, types, compression, caching, addresses, heads,
)  # fmt: skip
