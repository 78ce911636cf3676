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

// Other sites of the same host are none of ours.
async function openPages() {
  const all = await clients.matchAll({ includeUncontrolled: true, type: "window" });
  return all.filter((page) => page.url.startsWith(registration.scope));
}

async function tell(message) {
  for (const page of await openPages()) page.postMessage(message);
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
  if ((await openPages()).length > 1) page.postMessage({ type: "others-open" });
  else await skipWaiting();
}

addEventListener("activate", (event) => event.waitUntil(clients.claim()));
