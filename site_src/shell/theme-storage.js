// The theme writes the colours of its pages into the storage at every visit; here only when the
// reader chose them.
(() => {
  const write = window.__md_set;
  let chosen = false;
  window.__md_set = (key, ...rest) => {
    if (chosen || key !== "__palette") write(key, ...rest);
  };
  addEventListener("change", ({ target }) => (chosen ||= target.name === "__palette"), true);
})();
