"""The style sheets that the guide's pages share with the explanatory ones, joined into one."""

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files

JOINED = "assets/guide.css"
SHARED = ("assets/brand.css", "assets/pieces.css")


def join_styles(files: Files, config: MkDocsConfig) -> None:
    """Let the sheet of the guide's pages hold the shared ones: they wait for one file, not three.

    Raises
    ------
    KeyError : if the theme lacks one of them.
    """
    sources = {name: files.src_uris[name] for name in (*SHARED, JOINED)}
    texts = [file.content_string for file in sources.values()]
    files.remove(sources[JOINED])
    files.append(File.generated(config, JOINED, content="\n".join(texts)))
