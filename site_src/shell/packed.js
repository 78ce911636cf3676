// Starts the engine where pages are opened from a folder. Browsers fetch nothing there, so scripts
// carry the files as text, and the worker is made of text too. Each script in parts/ calls
//   __rigPart(name, text)     a piece of a file in base64, or of a plain text
(() => {
  const folder = new URL("parts/", document.currentScript.src);
  const arrived = new Map();
  window.__rigPart = (name, text) => arrived.set(name, [...(arrived.get(name) ?? []), text]);

  function load(name, allowed) {
    return new Promise((resolve, reject) => {
      const script = document.createElement("script");
      script.onload = () => {
        script.remove(); // not before: WebKit may forget a removed script and what waits for it
        resolve();
      };
      script.onerror = () => reject(new Error(`${name} is missing from the folder`));
      script.src = allowed(new URL(name, folder).href);
      document.head.append(script);
    });
  }

  const decoded = (text) =>
    Uint8Array.fromBase64?.(text) ?? Uint8Array.from(atob(text), (each) => each.charCodeAt(0));

  function joined(pieces) {
    const parts = pieces.map(decoded);
    const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
    let place = 0;
    for (const part of parts) {
      whole.set(part, place);
      place += part.length;
    }
    return whole;
  }

  window.__rigPacked = async (allowed, tell) => {
    arrived.clear();
    await load("list.js", allowed);
    const { manifest, scripts } = JSON.parse(arrived.get("list")[0]);
    const names = [manifest.files.snapshot, manifest.files.wasm].map((file) => file.name);
    const total = manifest.files.snapshot.bytes + manifest.files.wasm.bytes;
    for (const [count, script] of scripts.entries()) {
      await load(script, allowed);
      tell((total * (count + 1)) / scripts.length, total);
    }
    const parts = Object.fromEntries(names.map((name) => [name, joined(arrived.get(name))]));
    const source = new Blob(arrived.get("worker"), { type: "text/javascript" });
    arrived.clear();
    const OwnWorker = window.__rigWorker ?? Worker; // where the search put another in its place
    const worker = new OwnWorker(allowed(URL.createObjectURL(source)));
    const buffers = Object.values(parts).map((part) => part.buffer);
    worker.postMessage({ type: "start", manifest, parts }, buffers);
    return worker;
  };

  // Links in the engine's replies name folders, as on a server; here only their page can be opened.
  function nameThePage(event) {
    const link = event.target.closest?.("a[href]");
    if (!link?.pathname.endsWith("/")) return;
    link.pathname += "index.html";
  }
  addEventListener("click", nameThePage, true);
  addEventListener("auxclick", nameThePage, true);
})();
