// The button for light or dark colors; before-paint.js knows what is shown and where it is kept.
(() => {
  const { dataset } = document.documentElement;
  const button = document.getElementById("rig-palette");

  function choose(scheme) {
    const media = `(prefers-color-scheme: ${scheme === "slate" ? "dark" : "light"})`;
    const color = { media, scheme, primary: "custom", accent: "custom" };
    try {
      localStorage.setItem(
        dataset.palette,
        JSON.stringify({ index: scheme === "slate" ? 2 : 1, color }),
      );
    } catch {
      // Without storage the choice lasts as long as the page.
    }
    dataset.mdColorScheme = scheme;
  }

  button.hidden = false;
  button.addEventListener("click", () => {
    choose(dataset.mdColorScheme === "slate" ? "default" : "slate");
  });
})();
