// "Keep on this device": registers the service worker when asked, shows how far it is, and asks
// before a newer edition takes the place of the one that is being read. Words stand in the page.
(() => {
  const place = document.querySelector("[data-rig-offline]");
  const workers = navigator.serviceWorker;
  const isFolder = location.protocol === "file:";
  if (!place || (!workers && !isFolder)) return;

  const root = new URL(`${document.documentElement.dataset.root}/`, location);
  const say = place.querySelector("[role=status]");
  const bar = place.querySelector("progress");
  const buttons = Object.fromEntries(
    [...place.querySelectorAll("button")].map((button) => [button.dataset.rigDo, button]),
  );
  const megabytes = (bytes) => (bytes / 1e6).toFixed(0);
  const address = new URL("service-worker.js", root).href;
  const policy = window.trustedTypes?.createPolicy("rig-keep", { createScriptURL: () => address });
  let asked = false;
  let using = false;

  function show(state, values = {}) {
    place.dataset.state = state;
    say.textContent = (place.dataset[state] ?? "").replace(/{(\w+)}/g, (_, name) => values[name]);
    bar.hidden = state !== "keeping";
    buttons.keep.hidden = !["offer", "broken"].includes(state);
    buttons.use.hidden = !["newer", "others"].includes(state);
    buttons.remove.hidden = state !== "kept";
    place.hidden = false;
  }

  if (isFolder) return show("folder");

  async function offer() {
    const reply = await fetch(new URL("offline.json", root));
    const { bytes } = await reply.json();
    show("offer", { total: megabytes(bytes) });
  }

  async function keep() {
    asked = true;
    show("keeping", { kept: 0, total: "…" });
    try {
      const script = policy?.createScriptURL("") ?? address;
      follow(await workers.register(script, { scope: root.pathname, updateViaCache: "none" }));
    } catch (error) {
      console.error(error);
      show("broken");
    }
  }

  function follow(registration) {
    const worker = registration.installing ?? registration.waiting ?? registration.active;
    if (registration.waiting && registration.active) show("newer");
    else if (registration.active) show("kept");
    worker.addEventListener("statechange", () => {
      if (worker.state === "redundant" && asked) show("broken");
      else if (registration.waiting && registration.active) show("newer");
      else if (registration.active) show("kept");
    });
    registration.addEventListener("updatefound", () => {
      if (registration.active) follow(registration);
    });
  }

  async function remove() {
    const registration = await workers.getRegistration(root);
    await registration?.unregister();
    for (const name of await caches.keys()) {
      if (name.startsWith("rig-guide")) await caches.delete(name);
    }
    await offer();
  }

  async function use() {
    using = true;
    const registration = await workers.getRegistration(root);
    registration.waiting?.postMessage({ type: "use" });
  }

  workers.addEventListener("message", ({ data }) => {
    if (data.type === "others-open") show("others");
    if (data.type !== "keeping" || !asked) return;
    bar.value = data.kept / data.total;
    show("keeping", { kept: megabytes(data.kept), total: megabytes(data.total) });
  });
  workers.addEventListener("controllerchange", () => {
    if (using) location.reload();
  });
  buttons.keep.addEventListener("click", keep);
  buttons.use.addEventListener("click", use);
  buttons.remove.addEventListener("click", remove);

  addEventListener("load", async () => {
    const registration = await workers.getRegistration(root);
    if (!registration) return offer();
    follow(registration);
    registration.update().catch(() => {}); // without a network there is nothing newer
  });
})();
