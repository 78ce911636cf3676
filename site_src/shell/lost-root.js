// In the page for unknown addresses, before anything else of it: finds where the site begins, since a
// host shows this page at any depth, and in whatever folder the site was put. What its address says
// counts more than where the shop said that the site lies; links are made whole, and the base goes.
(() => {
  const { dataset } = document.documentElement;
  const base = document.querySelector("base");
  const path = location.pathname;
  const found =
    /^(.*?)\/guide(?:\/[^/]*(?:=|%3d)[^/]*)+\/?$/i.exec(path) ??
    /^(.*)\/(?:404\.html$|(?:explained|guide|owner|project|show|staff|units)(?:\/|$))/i.exec(path);

  function begin(root) {
    dataset.root = root;
    base.href = `${root}/`;
  }

  function wholeLinks() {
    for (const [tag, name] of Object.entries({ a: "href", link: "href", img: "src" })) {
      for (const each of document.querySelectorAll(`${tag}[${name}]`)) {
        if (!each.getAttribute(name).startsWith("#")) each.setAttribute(name, each[name]);
      }
    }
    base.remove();
  }

  // Nothing is where it was looked for: the folders above are tried, the nearest first.
  async function search({ target }) {
    if (!target.matches?.("link[rel=stylesheet]")) return;
    removeEventListener("error", search, true);
    for (let end = path.lastIndexOf("/"); end >= 0; end = path.lastIndexOf("/", end - 1)) {
      const root = path.slice(0, end);
      const reply = root !== dataset.root && (await fetch(`${root}/assets/guide.css`).catch(() => null));
      if (reply?.ok && reply.headers.get("Content-Type")?.startsWith("text/css")) {
        return location.replace(`${root}/404.html`);
      }
      if (!end) return;
    }
  }

  if (found) begin(found[1]);
  addEventListener("DOMContentLoaded", wholeLinks);
  addEventListener("error", search, true);
})();
