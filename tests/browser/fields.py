"""The detail form's fields, in groups that are closed until somebody opens them."""

from playwright.sync_api import Locator, Page

OPEN = "(field) => { const fold = field.closest('details'); if (fold) fold.open = true; }"


def field_of(page: Page, name: str, which: str = "") -> Locator:
    """A field of the detail form, its group opened; `which` says which of several it is."""
    found = page.locator(f"#rig-details [name={name}]{which}")
    found.first.evaluate(OPEN)
    return found
