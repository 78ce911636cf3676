// Starts Python with the engine in it. Each way to start is a function; they are tried in order.
import { loadPyodide } from "./pyodide/pyodide.mjs";
import createModule from "./pyodide/pyodide.asm.mjs";
import { FileError, inflated, read, watcher } from "./engine-files.js";
import { checksum, putBack, settle } from "./memory.js";

const ways = [startFromMemory, startPlain];
const NOWHERE = "https://engine.invalid/"; // Pyodide wants an address; `answerFetches` stands there
const EMPTY_ZIP = Uint8Array.of(80, 75, 5, 6, ...new Array(18).fill(0));

/**
 * Returns the first way that works, why those before it did not (a text, or nothing), and its
 * function from request to reply, both JSON texts. Where none works, the fault has the cause of the
 * last as its `why`.
 * open(file) gives the Response that holds a file; tell(loaded, total) is told how far it is.
 */
export async function start(manifest, open, tell) {
  const failures = [];
  let why = isOld() ? "old" : undefined;
  for (const way of why ? [] : ways) {
    try {
      const reply = await way(manifest, open, tell);
      console.info(`engine: ${way.name}`);
      return { reply, way: way.name, reason: failures.join("; ") };
    } catch (error) {
      failures.push(`${way.name}: ${error}`);
      console.warn(`engine: ${failures.at(-1)}`);
      why = error.why;
    }
  }
  throw new FileError(failures.join("; "), why);
}

const isOld = () => !globalThis.WebAssembly || !globalThis.DecompressionStream;

async function startFromMemory({ files, base, lock }, open, tell) {
  if (!files.snapshot) throw new Error("this edition has no kept memory");
  const watch = watcher([files.snapshot, files.wasm], tell);
  const image = new Uint8Array(files.snapshot.size);
  const heading = new Uint8Array(base.offset);
  const filled = fill(image, files.snapshot, open, watch);
  const wasm = program(files.wasm, open, watch);
  answerFetches({
    "pyodide.asm.wasm": wasm.response,
    "python_stdlib.zip": () => new Response(EMPTY_ZIP),
  });
  const pyodide = await unlessBroken([filled, wasm.checked], {
    indexURL: NOWHERE,
    lockFileContents: lock,
    _loadSnapshot: heading, // read once the module is there; all else is in place by then
    async createPyodideModule(settings) {
      const module = await createModule(settings);
      await filled;
      heading.set(image.subarray(0, base.offset));
      putInto(module, image, base);
      image.buffer.transfer?.(0); // it would stay as long as Pyodide
      return module;
    },
  });
  return door(pyodide);
}

// Pyodide would take a whole memory, zeros and all, and not make room for it.
function putInto(module, image, base) {
  settle(module.HEAPU8, base);
  if (checksum(module.HEAPU8, base) !== base.check) throw new Error("another base");
  const used = module.HEAPU8.length; // more than it says: what it used and gave back holds old bytes
  if (base.size > module.HEAPU8.length) module.growMemory(base.size);
  putBack(image, module.HEAPU8, used, base);
}

async function startPlain({ files, wheels, lock }, open, tell) {
  const archives = [...wheels, files.edition];
  const watch = watcher([...archives, files.library, files.wasm], tell);
  const wasm = program(files.wasm, open, watch);
  const library = read(files.library, open, watch);
  const opened = Promise.all(archives.map((file) => read(file, open, watch)));
  answerFetches({
    "pyodide.asm.wasm": wasm.response,
    "python_stdlib.zip": async () => new Response(await library),
  });
  const pyodide = await unlessBroken([wasm.checked, library, opened], {
    indexURL: NOWHERE,
    lockFileContents: lock,
    createPyodideModule: createModule,
    env: { PYTHONOPTIMIZE: "2" },
  });
  const contents = await opened;
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

// Python itself: begun at once, so that the browser compiles it as it comes in.
function program(file, open, watch) {
  const coming = inflated(file, open, watch);
  const checked = coming.then((each) => each.checked);
  checked.catch(() => {});
  const headers = { "Content-Type": "application/wasm" };
  return { checked, response: async () => new Response((await coming).content, { headers }) };
}

// A browser that is given broken WebAssembly may say nothing at all: whichever file is found broken
// first ends the start, and nothing runs before all of them were found whole.
async function unlessBroken(checks, settings) {
  const lack = lackOfMemory();
  const loading = loadPyodide(settings);
  loading.catch(() => {});
  await Promise.all(checks);
  return Promise.race([loading, lack]);
}

// Where a device has no room for WebAssembly's memory, Pyodide waits for ever.
function lackOfMemory() {
  const lack = new Promise((_, reject) => {
    for (const name of ["instantiate", "instantiateStreaming"]) {
      const own = WebAssembly[name];
      WebAssembly[name] = (...all) =>
        own.apply(WebAssembly, all).catch((error) => {
          if (/memory/i.test(error)) reject(new FileError(String(error), "memory"));
          throw error;
        });
    }
  });
  lack.catch(() => {});
  return lack;
}

// Pyodide fetches what it needs by name; the files here are compressed, and watched on their way.
function answerFetches(answers) {
  globalThis.fetch = async (address) => answers[String(address).split("/").pop()]();
}

async function fill(image, file, open, watch) {
  const { content, checked } = await inflated(file, open, watch);
  const reader = content.getReader();
  let place = 0;
  try {
    for (let part = await reader.read(); !part.done; part = await reader.read()) {
      image.set(part.value, place);
      place += part.value.length;
    }
    if (place !== image.length) throw new Error(`${file.name} is too short`);
  } catch (error) {
    await checked; // it knows the cause, where the bytes were others
    throw error;
  }
  await checked;
}
