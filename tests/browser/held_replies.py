"""Replies of the engine's worker that a page gets when a test lets them go."""

from playwright.sync_api import Page

HOLDS = """
window.__held = [];
const listen = Worker.prototype.addEventListener;
Worker.prototype.addEventListener = function (type, hear, ...rest) {
    const heard = (event) => {
        if (window.__holds?.(event.data)) window.__held.push(() => hear(event));
        else hear(event);
    };
    return listen.call(this, type, type === "message" ? heard : hear, ...rest);
};
"""


def can_hold(page: Page) -> None:
    """Prepare a page, before it is opened."""
    page.add_init_script(HOLDS)


def hold(page: Page, which: str) -> None:
    """Hold the messages for which this JavaScript is true; it knows one as `message`."""
    page.evaluate(f"() => {{ window.__holds = (message) => {which}; }}")


def wait_for_held(page: Page) -> None:
    """Wait until one is held."""
    page.wait_for_function("() => window.__held.length")


def let_go(page: Page) -> None:
    """Give the page what was held, and hold nothing any more."""
    page.evaluate(
        "() => { delete window.__holds; for (const give of window.__held.splice(0)) give(); }"
    )
