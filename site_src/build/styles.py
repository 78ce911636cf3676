"""The site's own style sheets as browsers get them: short, and one where a page needs several."""

from pathlib import PurePosixPath

from mkdocs.config.defaults import MkDocsConfig
from mkdocs.structure.files import File, Files
from rcssmin import cssmin

FOLDER = PurePosixPath("assets")
JOINED = "assets/guide.css"
SHARED = ("assets/brand.css", "assets/pieces.css")


def publish_styles(files: Files, config: MkDocsConfig) -> None:
    """Let the sheet of the guide's pages hold the shared ones: they wait for one file, not three.

    Each sheet loses what only those who write it read, such as its comments.

    Raises
    ------
    KeyError : if the theme lacks one of them.
    """
    own = {name: file for name, file in files.src_uris.items() if _is_own_sheet(name)}
    texts = {name: file.content_string for name, file in own.items()}
    texts[JOINED] = "\n".join(texts[name] for name in (*SHARED, JOINED))
    for name, file in own.items():
        files.remove(file)
        files.append(File.generated(config, name, content=cssmin(texts[name]) + "\n"))


def _is_own_sheet(name: str) -> bool:
    """Tell a sheet of ours from those of the theme, which lie in a folder of their own."""
    path = PurePosixPath(name)
    return path.parent == FOLDER and path.suffix == ".css"
