"""What people call the appliances of the guide -> their ids."""

from collections.abc import Collection

from engine.kept import kept
from engine.model.guide import Guide

_LEFT_OUT = str.maketrans("", "", " -/.,'’")


def name_key(name: str) -> str:
    """A name without case, spaces and hyphens: "Mini-split" is "mini split" is "minisplit"."""
    return name.lower().translate(_LEFT_OUT)


@kept("guide", 8)
def load_names(guide: Guide) -> dict[str, tuple[str, ...]]:
    """The ids that each name may mean, in the guide's order; ids and names before other words."""
    found: dict[str, tuple[str, ...]] = {}
    for appliance in guide.appliances:
        for name in (appliance.id, appliance.name):
            found[name_key(name)] = (appliance.id,)
    sure = set(found)
    for appliance in guide.appliances:
        for key in dict.fromkeys(map(name_key, appliance.also)):
            if key not in sure:
                found[key] = (*found.get(key, ()), appliance.id)
    return found


def appliance_named(guide: Guide, name: str) -> str:
    """The appliance with this id or name; "" where there is none."""
    return _named(guide).get(name.lower(), "")


@kept("guide", 8)
def _named(guide: Guide) -> dict[str, str]:
    found = {each.id: each.id for each in guide.appliances}
    return found | {each.name.lower(): each.id for each in guide.appliances}


def appliance_called(guide: Guide, name: str, carried: Collection[str] = ()) -> str:
    """The appliance that somebody calls so, in the singular or the plural; "" where there is none.

    carried: ids of what the rig has; of several that share a name, one of these is meant
    """
    key, names = name_key(name), load_names(guide)
    ids = names.get(key) or names.get(key.removesuffix("s")) or names.get(f"{key}s") or ()
    return next((each for each in ids if each in carried), ids[0] if ids else "")
