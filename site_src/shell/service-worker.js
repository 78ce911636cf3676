// Keeps the whole guide on a device that asked for it, and serves it from there. A file is taken only
// if it is the list's, so that one edition is kept or none. A newer edition waits until the page
// says "use", and then only when no other page of the guide is open.
importScripts(
  "assets/engine/workbox-core.js",
  "assets/engine/workbox-routing.js",
  "assets/engine/workbox-strategies.js",
  "assets/engine/workbox-precaching.js",
);

const { precaching, routing } = workbox;
const LOST = "404.html";
const files = [/* list */].map(([name, integrity, size, needed]) => ({
  name,
  integrity,
  size,
  needed,
  url: new URL(name, location).href,
}));
const byAddress = new Map(files.map((file) => [file.url, file]));
const total = files.reduce((sum, { size }) => sum + size, 0);
let kept = 0;

const fileOf = ({ url }) => byAddress.get(url.split(/[?#]/)[0]);

// Other sites of the same host are none of ours.
async function openPages() {
  const all = await clients.matchAll({ includeUncontrolled: true, type: "window" });
  return all.filter((page) => page.url.startsWith(registration.scope));
}

async function tell(message) {
  for (const page of await openPages()) page.postMessage(message);
}

// The likely cause why a file could not be taken, for which the page has words.
async function causeOf(url, error) {
  if (error.name === "QuotaExceededError") return "full";
  const found = await fetch(url, { cache: "no-store" }).catch(() => null);
  if (!found) return "network";
  if (found.redirected) return "foreign";
  if (!found.ok) return "missing";
  return (await found.text()).trimStart().startsWith("<") && !/\.(html|svg)$/.test(url)
    ? "foreign"
    : "changed";
}

workbox.core.setCacheNameDetails({ prefix: "rig-guide", suffix: "" });
precaching.addPlugins([
  {
    async handlerDidError({ request, event, error }) {
      if (event.type !== "install") return undefined;
      const file = fileOf(request);
      if (!file.needed) return new Response();
      await tell({ type: "lacks", name: file.name, why: await causeOf(file.url, error) });
      return undefined;
    },
    async handlerDidComplete({ request, event }) {
      if (event.type !== "install") return;
      kept += fileOf(request)?.size ?? 0;
      await tell({ type: "keeping", kept, total });
    },
  },
]);

// Whoever asks past what is kept found that broken.
routing.registerRoute(
  ({ request }) => request.cache === "reload" && request.mode !== "navigate" && fileOf(request),
  async ({ request }) => (await fetchAgain(fileOf(request))) ?? Response.error(),
);
precaching.precacheAndRoute(
  files.map(({ name, integrity }) => ({ url: name, revision: integrity.slice(7, 27), integrity })),
  { cleanURLs: false, ignoreURLParametersMatching: [/./] },
);
// An address without its slash, or of another edition: the lost page finds what it asks for.
routing.registerRoute(
  ({ request }) => request.mode === "navigate",
  async ({ request }) => {
    try {
      return await fetch(request);
    } catch (error) {
      const lost = await precaching.matchPrecache(LOST);
      if (!lost) throw error;
      return lost;
    }
  },
);
precaching.cleanupOutdatedCaches();

addEventListener("message", (event) => {
  if (event.data?.type === "use") event.waitUntil(useNewer(event.source));
  if (event.data?.type === "check") event.waitUntil(mend(event.source));
});

async function useNewer(page) {
  if ((await openPages()).length > 1) page.postMessage({ type: "others-open" });
  else await skipWaiting();
}

const opened = () => caches.open(workbox.core.cacheNames.precache);

// A browser that is short of room may drop some of what was kept.
async function mend(page) {
  const there = new Set((await (await opened()).keys()).map(({ url }) => url));
  const gone = files.filter(({ name }) => !there.has(precaching.getCacheKeyForURL(name)));
  const still = [];
  let have = gone.reduce((left, { size }) => left - size, total);
  for (const file of gone) {
    if (!(await fetchAgain(file)) && file.needed) still.push(file.name);
    await tell({ type: "keeping", kept: (have += file.size), total });
  }
  page.postMessage({ type: "checked", gone: gone.length, still });
}

async function fetchAgain({ name, url, integrity }) {
  try {
    const fresh = await fetch(url, { integrity, cache: "reload", credentials: "same-origin" });
    if (!fresh.ok) return null;
    await (await opened()).put(precaching.getCacheKeyForURL(name), fresh.clone());
    return fresh;
  } catch {
    return null;
  }
}

addEventListener("activate", (event) => event.waitUntil(clients.claim()));
