"""The Content-Security-Policy of each page: what it may load, the theme's own scripts by hash."""

import base64
import hashlib
import re

INLINE_SCRIPT = re.compile(r"<script(?![^>]*\bsrc=)([^>]*)>(.*?)</script>", re.DOTALL)
DATA_KIND = re.compile(r"""type=["']application/(?:ld\+)?json["']""")
ENCODING = re.compile(r"""<meta charset=["']?utf-8["']?\s*/?>""", re.IGNORECASE)
OWN = "'self'"


def policy(
    scripts: str, *, engine: bool, trusted: bool = True, based: bool = False, form: str = ""
) -> str:
    """Return a policy. Styles may stand in a page (charts use them), scripts by their hash only.

    scripts: sources of inline scripts, as hashes
    engine: whether the page starts WebAssembly
    trusted: whether such a page gives HTML to the browser by one door only
    based: whether it says from where its addresses are meant
    form: the one address to which the page may send a form; "" for none
    """
    parts = {
        "default-src": OWN,
        "script-src": " ".join(filter(None, [OWN, "'wasm-unsafe-eval'" * engine, scripts])),
        "style-src": f"{OWN} 'unsafe-inline'",
        "img-src": f"{OWN} data:",
        **dict.fromkeys(("object-src", "base-uri"), "'none'"),
        "form-action": form or "'none'",
    }
    if based:
        parts["base-uri"] = OWN
    if engine and trusted:
        parts |= {"require-trusted-types-for": "'script'", "trusted-types": "rig-guide rig-keep"}
    return "; ".join(f"{name} {value}" for name, value in parts.items())


def hashes(page: str) -> str:
    """Return the sources of a page's inline scripts; blocks of data are no scripts."""
    found = dict.fromkeys(
        f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"
        for kind, text in INLINE_SCRIPT.findall(page)
        if not DATA_KIND.search(kind)
    )
    return " ".join(found)


def with_policy(page: str) -> str:
    """Put its policy into a page of the theme, before anything that it governs.

    The theme's own scripts write HTML, so that its pages cannot have one door for it.
    """
    content = policy(hashes(page), engine="data-rig-piece=" in page, trusted=False)
    meta = f'<meta http-equiv="Content-Security-Policy" content="{content}">'
    guarded, count = ENCODING.subn(lambda found: found[0] + meta, page, count=1)
    if not count:
        raise ValueError("a page without <meta charset> cannot be given its policy")
    return guarded
