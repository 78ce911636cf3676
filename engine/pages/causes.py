"""Why the calculator could not start, by the causes that site_src/shell/engine-files.js names."""

from engine.wording.sentences import Sentences


def causes(page: Sentences) -> dict[str, str]:
    """What is said of each cause, and on the button that loads a newer edition.

    The build puts it into the script that tells it.
    """
    return {
        "old": page["engine-old"],
        "memory": page["engine-memory"],
        "network": page["engine-network"],
        "missing": page["engine-missing"],
        "replaced": page["engine-replaced"],
        "load": page["engine-load"],
        "foreign": page["engine-foreign"],
        "cut": page["engine-cut"],
        "changed": page["engine-changed"],
    }
