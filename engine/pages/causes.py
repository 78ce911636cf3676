"""What a page's script says of the calculator on its way: what loading takes, why it did not start.

The build puts both into the script that tells them.
"""

from engine.wording.sentences import Sentences


def causes(page: Sentences) -> dict[str, str]:
    """What is said of each cause that engine-files.js names, and on the button to load afresh."""
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


def loading(page: Sentences) -> dict[str, str]:
    """What is said where the calculator is offered, since its download is long or dear."""
    return {
        "offer": page.pattern("engine-offer", "size", "time"),
        "untimed": page.pattern("engine-offer-untimed", "size"),
        "stopped": page.pattern("engine-stopped", "size"),
        "waits": page["engine-offer-waits"],
        "seconds": page.pattern("engine-seconds", "count"),
        "minutes": page.pattern("engine-minutes", "count"),
        "load": page["engine-do-load"],
        "stop": page["engine-do-stop"],
    }
