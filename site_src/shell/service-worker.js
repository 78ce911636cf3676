// Keeps the whole guide on a device that asked for it, and serves it from there. A newer edition
// waits until the page says "use", and then only when no other page of the guide is open.
importScripts(
  "assets/engine/workbox-core.js",
  "assets/engine/workbox-routing.js",
  "assets/engine/workbox-strategies.js",
  "assets/engine/workbox-precaching.js",
);

const files = [/* list */];
const sizes = new Map(files.map(([name, , size]) => [new URL(name, location).pathname, size]));
const total = files.reduce((sum, [, , size]) => sum + size, 0);
let kept = 0;

async function tell(message) {
  const pages = await clients.matchAll({ includeUncontrolled: true, type: "window" });
  for (const page of pages) page.postMessage(message);
}

workbox.core.setCacheNameDetails({ prefix: "rig-guide", suffix: "" });
workbox.precaching.addPlugins([
  {
    async handlerDidComplete({ request, event }) {
      if (event.type !== "install") return;
      kept += sizes.get(new URL(request.url).pathname) ?? 0;
      await tell({ type: "keeping", kept, total });
    },
  },
]);
workbox.precaching.precacheAndRoute(
  files.map(([url, revision]) => ({ url, revision })),
  { cleanURLs: false, ignoreURLParametersMatching: [/./] },
);
workbox.precaching.cleanupOutdatedCaches();

addEventListener("message", (event) => {
  if (event.data?.type === "use") event.waitUntil(useNewer(event.source));
});

async function useNewer(page) {
  const pages = await clients.matchAll({ includeUncontrolled: true, type: "window" });
  if (pages.length > 1) page.postMessage({ type: "others-open" });
  else await skipWaiting();
}

addEventListener("activate", (event) => event.waitUntil(clients.claim()));
