// Stands in each page of the guide, since painting would wait for a file: what a page knows before it
// is painted.
(() => {
  const { dataset } = document.documentElement;

  // An address that brings no details needs no word about them. Where no script runs, and where the
  // one that reads them does not come, that word stands.
  if (!location.hash.includes("=")) dataset.given = "nothing";
  addEventListener("hashchange", () => delete dataset.given);

  // Light or dark, kept where the explanatory pages keep theirs.
  const path = new URL(dataset.root, location).pathname.replace(/\/?$/, "/");
  dataset.palette = `${path}.__palette`;
  let color;
  try {
    color = JSON.parse(localStorage.getItem(dataset.palette))?.color;
  } catch {
    // Without storage it is as the device says.
  }
  const isChosen = color && color.media !== "(prefers-color-scheme)";
  const isDark = matchMedia("(prefers-color-scheme: dark)").matches;
  dataset.mdColorScheme = isChosen ? color.scheme : isDark ? "slate" : "default";
})();
