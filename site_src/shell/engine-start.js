// Starts Python with the engine in it. Each way to start is a function; they are tried in order.
import { loadPyodide } from "./pyodide/pyodide.mjs";
import createModule from "./pyodide/pyodide.asm.mjs";
import { checksum, takeOut } from "./memory.js";

const ways = [startFromMemory, startPlain];
const NOWHERE = "https://engine.invalid/"; // Pyodide wants an address; `answerFetches` stands there
const EMPTY_ZIP = Uint8Array.of(80, 75, 5, 6, ...new Array(18).fill(0));

/**
 * Returns the first way that works, why those before it did not (a text, or nothing), and its
 * function from request to reply, both JSON texts.
 * open(file) gives the Response that holds a file; tell(loaded, total) is told how far it is.
 */
export async function start(manifest, open, tell) {
  const failures = [];
  for (const way of ways) {
    try {
      const reply = await way(manifest, open, tell);
      console.info(`engine: ${way.name}`);
      return { reply, way: way.name, reason: failures.join("; ") };
    } catch (error) {
      failures.push(`${way.name}: ${error}`);
      console.warn(`engine: ${failures.at(-1)}`);
    }
  }
  throw new Error(failures.join("; "));
}

async function startFromMemory({ files, base, lock }, open, tell) {
  if (!files.snapshot) throw new Error("this edition has no kept memory");
  const watch = watcher([files.snapshot, files.wasm], tell);
  const image = new Uint8Array(files.snapshot.size);
  const filled = fill(image, files.snapshot, open, watch);
  filled.catch(() => {});
  answerFetches({
    "pyodide.asm.wasm": () => inflated(files.wasm, open, watch),
    "python_stdlib.zip": () => new Response(EMPTY_ZIP),
  });
  const pyodide = await loadPyodide({
    indexURL: NOWHERE,
    lockFileContents: lock,
    _loadSnapshot: image,
    async createPyodideModule(settings) {
      const module = await createModule(settings);
      await filled;
      if (checksum(module.HEAPU8, base) !== base.check) throw new Error("another base");
      takeOut(image, module.HEAPU8, base);
      const missing = image.length - module._sbrk(0);
      if (missing > 0) module._free(module._malloc(missing)); // Pyodide does not grow it itself
      return module;
    },
  });
  image.buffer.transfer?.(0); // Pyodide would hold on to it, as much again as Python's memory
  return door(pyodide);
}

async function startPlain({ files, wheels, lock }, open, tell) {
  const archives = [...wheels, files.edition];
  const watch = watcher([...archives, files.library, files.wasm], tell);
  answerFetches({
    "pyodide.asm.wasm": () => inflated(files.wasm, open, watch),
    "python_stdlib.zip": async () => new Response(await read(files.library, open, watch)),
  });
  const [pyodide, ...contents] = await Promise.all([
    loadPyodide({
      indexURL: NOWHERE,
      lockFileContents: lock,
      createPyodideModule: createModule,
      env: { PYTHONOPTIMIZE: "2" },
    }),
    ...archives.map((file) => read(file, open, watch)),
  ]);
  const extractDir = pyodide.runPython("__import__('site').getsitepackages()[0]");
  for (const [place, { name }] of archives.entries()) {
    pyodide.unpackArchive(contents[place], name.split(".").pop(), { extractDir });
  }
  pyodide.runPython("import importlib; importlib.invalidate_caches()");
  const { GUIDE, SIGNATURES, SYMBOLS } = pyodide.pyimport("edition");
  pyodide.pyimport("engine.browser").recall(GUIDE, SIGNATURES, SYMBOLS);
  return door(pyodide);
}

function door(pyodide) {
  const { reply } = pyodide.pyimport("engine.browser");
  const { GUIDE } = pyodide.pyimport("edition");
  return (request) => reply(request, GUIDE);
}

// Pyodide fetches what it needs by name; the files here are compressed, and watched on their way.
function answerFetches(answers) {
  globalThis.fetch = async (address) => answers[String(address).split("/").pop()]();
}

function watcher(files, tell) {
  const total = files.reduce((sum, file) => sum + file.bytes, 0);
  let loaded = 0;
  return (bytes) => tell((loaded += bytes), total);
}

function watched(response, watch) {
  return response.body.pipeThrough(
    new TransformStream({
      transform(chunk, controller) {
        watch(chunk.length);
        controller.enqueue(chunk);
      },
    }),
  );
}

async function inflated(file, open, watch) {
  const stream = watched(await open(file), watch);
  return new Response(stream.pipeThrough(new DecompressionStream("gzip")), {
    headers: { "Content-Type": "application/wasm" },
  });
}

async function read(file, open, watch) {
  const bytes = await new Response(watched(await open(file), watch)).arrayBuffer();
  await check(file, bytes);
  return bytes;
}

async function fill(image, file, open, watch) {
  const [packed, copy] = watched(await open(file), watch).tee();
  const checked = new Response(copy).arrayBuffer().then((bytes) => check(file, bytes));
  checked.catch(() => {});
  const reader = packed.pipeThrough(new DecompressionStream("gzip")).getReader();
  let place = 0;
  for (let part = await reader.read(); !part.done; part = await reader.read()) {
    image.set(part.value, place);
    place += part.value.length;
  }
  if (place !== image.length) throw new Error(`${file.name} is too short`);
  await checked;
}

// Pages that came without encryption have no `crypto.subtle`; there `open` lets the browser check.
async function check(file, bytes) {
  if (!globalThis.crypto?.subtle) return;
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  if (btoa(String.fromCharCode(...digest)) !== file.sha256) throw new Error(`${file.name} differs`);
}
