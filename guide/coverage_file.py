"""What the shop tells `rig-guide coverage`, and the form of what it tells back."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """Faults that the shop knows of and leaves as they are, with its reason."""

    why: str
    faults: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverageFile:
    """The file coverage.yaml.

    tries: answers such as "alt=180A drive=2h", each tried with every way through the short path
    """

    tries: tuple[str, ...] = ()
    accepted: tuple[Accepted, ...] = ()


@dataclass(frozen=True, slots=True)
class Finding:
    """One fault, with the name by which the shop may accept it; `accepted` is the shop's reason."""

    name: str
    what: str
    details: tuple[str, ...] = ()
    accepted: str = ""
