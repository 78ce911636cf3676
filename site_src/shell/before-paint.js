// What a page of the guide knows before it is painted, in one file since painting waits for it.

// An address that brings no details needs no word about them. Where no script runs, and where the one
// that reads them does not come, that word stands.
if (!location.hash.includes("=")) document.documentElement.dataset.given = "nothing";
addEventListener("hashchange", () => delete document.documentElement.dataset.given);

// Light or dark, kept where the explanatory pages keep theirs.
(() => {
  const root = document.documentElement;
  const key = `${new URL(root.dataset.root, location).pathname.replace(/\/?$/, "/")}.__palette`;
  const dark = matchMedia("(prefers-color-scheme: dark)");

  function stored() {
    try {
      return JSON.parse(localStorage.getItem(key))?.color;
    } catch {
      return null;
    }
  }

  function current() {
    const color = stored();
    const chosen = color && color.media !== "(prefers-color-scheme)";
    return chosen ? color.scheme : dark.matches ? "slate" : "default";
  }

  function choose(scheme) {
    const media = `(prefers-color-scheme: ${scheme === "slate" ? "dark" : "light"})`;
    const color = { media, scheme, primary: "custom", accent: "custom" };
    try {
      localStorage.setItem(key, JSON.stringify({ index: scheme === "slate" ? 2 : 1, color }));
    } catch {
      // Without storage the choice lasts as long as the page.
    }
    root.dataset.mdColorScheme = scheme;
  }

  root.dataset.mdColorScheme = current();
  document.addEventListener("DOMContentLoaded", () => {
    const button = document.getElementById("rig-palette");
    button.hidden = false;
    button.addEventListener("click", () => {
      choose(root.dataset.mdColorScheme === "slate" ? "default" : "slate");
    });
  });
})();
