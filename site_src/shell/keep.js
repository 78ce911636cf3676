// "Keep on this device": registers the service worker when asked, shows how far it is, and asks
// before a newer edition takes the place of the one that is being read. The words come with
// offline.json.
(() => {
  const place = document.querySelector(".rig-offline");
  const workers = navigator.serviceWorker;
  if (!place || !workers) return;

  const root = new URL(`${document.documentElement.dataset.root}/`, location);
  const address = new URL("service-worker.js", root).href;
  const policy = window.trustedTypes?.createPolicy("rig-keep", { createScriptURL: () => address });
  const megabytes = (bytes) => (bytes / 1e6).toFixed(0);
  const say = document.createElement("p");
  const bar = document.createElement("progress");
  const buttons = {};
  let words = {};
  let size = 0;
  let current = null;
  let asked = false;
  let reached = 0; // bytes that are kept
  let before = 0; // … and that were when the try before was cut off
  let using = false;
  let lack = null; // the file that could not be had, and why

  const filled = (text, values) => (text ?? "").replace(/{(\w+)}/g, (_, name) => values[name]);

  function show(state, values = {}) {
    const pressed = document.activeElement;
    place.dataset.state = state;
    say.ariaLive = state === "keeping" ? "off" : "polite"; // the bar tells how far it is
    const told = [words[state]];
    if (state === "broken" && lack) told.push(words.lacks, words[lack.why]);
    say.textContent = told.map((text) => filled(text, { ...values, ...lack })).join(" ");
    bar.hidden = state !== "keeping";
    buttons.keep.hidden = !["offer", "broken"].includes(state);
    buttons.use.hidden = !["newer", "others"].includes(state);
    buttons.remove.hidden = !["kept", "broken", "damaged"].includes(state);
    place.hidden = false;
    if (place.contains(pressed) && pressed.hidden) say.focus();
  }

  function build() {
    say.setAttribute("role", "status");
    say.tabIndex = -1;
    bar.setAttribute("aria-label", words.progress);
    place.append(say, bar);
    for (const [name, task] of Object.entries({ keep, use, remove })) {
      const button = document.createElement("button");
      button.type = "button";
      button.dataset.rigDo = name;
      button.textContent = words[`do-${name}`];
      button.addEventListener("click", task);
      buttons[name] = button;
      place.append(" ", button);
    }
  }

  const offer = () => show("offer", { total: megabytes(size) });

  async function keep() {
    asked = true;
    reached = 0;
    lack = null;
    show("keeping", { kept: 0, total: megabytes(size) });
    navigator.storage?.persist?.().catch(() => {}); // or a device short of room may drop it
    try {
      const script = policy?.createScriptURL("") ?? address;
      follow(await workers.register(script, { scope: root.pathname, updateViaCache: "none" }));
    } catch (error) {
      console.error(error);
      asked = false;
      show("broken");
    }
  }

  // `asked`: the first edition is on its way; a newer one comes quietly beside it.
  function follow(registration) {
    current = registration;
    registration.onupdatefound = () => watch(registration, registration.installing);
    watch(registration, registration.installing ?? registration.waiting ?? registration.active);
  }

  function watch(registration, worker) {
    const look = () => {
      if (registration !== current) return; // it was removed meanwhile
      if (asked && worker.state === "installing") return;
      if (asked && worker.state === "redundant") return giveUpOrGoOn();
      else if (registration.waiting && registration.active) show("newer");
      else if (registration.active) {
        registration.active.postMessage({ type: "check" });
        if (asked) return; // a browser may bring back the one that was removed, with nothing kept
        show("kept");
      }
      asked = false;
    };
    if (!worker) return;
    look();
    worker.addEventListener("statechange", look);
  }

  // A browser ends what takes it minutes; the next try goes on with what is not kept yet.
  function giveUpOrGoOn() {
    const isFurther = reached > before;
    before = isFurther ? reached : 0;
    if (isFurther) return keep();
    asked = false;
    show("broken");
  }

  async function remove() {
    const registration = await workers.getRegistration(root);
    current = null;
    await registration?.unregister();
    for (const name of await caches.keys()) {
      if (name.startsWith("rig-guide")) await caches.delete(name);
    }
    offer();
  }

  async function use() {
    const registration = await workers.getRegistration(root);
    if (!registration?.waiting) return location.reload(); // another page took it already
    using = true;
    registration.waiting.postMessage({ type: "use" });
  }

  workers.addEventListener("message", ({ data }) => {
    if (data.type === "others-open") {
      using = false;
      show("others");
    }
    if (data.type === "lacks") {
      lack = data;
      if (place.dataset.state === "broken") show("broken"); // the end was heard before its cause
    }
    if (data.type === "checked") {
      if (data.still.length) show("damaged", { name: data.still[0] });
      else if (asked) show("kept");
      asked = false;
    }
    if (data.type !== "keeping" || !asked) return;
    reached = data.kept;
    bar.value = reached / data.total;
    show("keeping", { kept: megabytes(data.kept), total: megabytes(data.total) });
  });
  workers.addEventListener("controllerchange", () => {
    if (using) location.reload();
  });

  addEventListener("load", async () => {
    const said = await fetch(new URL("offline.json", root))
      .then((reply) => (reply.ok ? reply.json() : null))
      .catch(() => null); // or a web page came in its place
    if (!said) return;
    ({ words, bytes: size } = said);
    build();
    const registration = await workers.getRegistration(root);
    if (!registration) return offer();
    asked = !registration.active; // the page was left while it was being kept
    if (asked) show("keeping", { kept: 0, total: megabytes(size) });
    follow(registration);
    registration.update().catch(() => {}); // without a network there is nothing newer
  });
})();
