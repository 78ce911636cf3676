"""Scripts that carry words of the guide: a page in a folder can fetch nothing."""

import json

from guide.setup import ROOT

PLACE = "{/* words */}"


def filled(name: str, words: object) -> str:
    """A script of the shell with these words in it.

    Raises
    ------
    ValueError : if the script has no place for them.
    """
    source = (ROOT / "site_src" / "shell" / name).read_text(encoding="utf-8")
    if PLACE not in source:
        raise ValueError(f"{name} has no {PLACE}")
    return source.replace(PLACE, json.dumps(words, ensure_ascii=False, separators=(",", ":")), 1)
