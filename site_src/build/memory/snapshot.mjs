// Keeps the memory of a Python that has imported and warmed the engine:
//   node snapshot.mjs PYODIDE LIBRARY ARCHIVES OUT
// takes Pyodide's library as byte code, the wheels and the content from the folder ARCHIVES,
// writes the memory to OUT and, as JSON, how it is laid out to the standard output. Every byte that
// the WebAssembly module itself puts into memory is taken out again (exclusive or), since the
// browser has it already, and so it has zeros. The same archives give the same bytes.
import fs from "node:fs";
import { createRequire, syncBuiltinESMExports } from "node:module";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { checksum, settle } from "../../shell/memory.js";
import "../faults.mjs";
import { withoutZeros } from "./zeros.mjs";

// Taken off the command line, which Python would otherwise keep in its memory.
const [pyodideFile, stdLibURL, archives, out] = process.argv.splice(1).slice(1);
const MEBIBYTE = 1 << 20;
const SMALLEST_BLOCK = 8;
const STEPS = ["warm", "drop", "shed"]; // files beside this, each with a function of its name
const BLOCK = 256; // bytes; a page has a whole number of them
const PAGE = 4096;

// Chance and time would stay in the memory, and two builds would differ.
let chance = 7;
let look_ms = 0; // by how much the clock goes on whenever it is looked at
let clock_ms = 7;
const now = () => (clock_ms += look_ms);
function noChance(view) {
  new Uint8Array(view.buffer, view.byteOffset, view.byteLength).fill(chance);
  return view;
}
const crypto = createRequire(import.meta.url)("node:crypto");
crypto.randomFillSync = noChance;
syncBuiltinESMExports();
Date.now = () => Date.UTC(1980, 0, 1, 12) + now();
performance.now = now;
Math.random = () => 0.5;

// On an iPhone Pyodide leaves out a trampoline whose slot in the table WebKit would not accept.
Object.defineProperty(globalThis, "navigator", { value: { userAgent: "iPhone" } });

const { loadPyodide } = await import(pathToFileURL(pyodideFile).href);
const asm = pathToFileURL(pyodideFile.replace("pyodide.mjs", "pyodide.asm.mjs")).href;
const { default: create } = await import(asm);

const pyodide = await loadPyodide({
  _makeSnapshot: true,
  stdLibURL,
  env: { PYTHONHASHSEED: "0", PYTHONOPTIMIZE: "2", PYTHONNODEBUGRANGES: "1" },
});
// Only texts pass from Python to here: a proxy would be let go of at a moment of chance.
const extractDir = pyodide.runPython("__import__('site').getsitepackages()[0]");
for (const name of fs.readdirSync(archives).sort()) {
  const archive = new Uint8Array(fs.readFileSync(path.join(archives, name)));
  pyodide.unpackArchive(archive, name.split(".").pop(), { extractDir });
}
// All of them are read before any runs: reading files imports much that is dropped.
for (const name of STEPS) {
  pyodide.FS.writeFile(`${name}.py`, fs.readFileSync(new URL(`${name}.py`, import.meta.url)));
}
pyodide.runPython("import importlib, sys; importlib.invalidate_caches()");
pyodide.runPython(`from edition import GUIDE, SIGNATURES, SYMBOLS; import ${STEPS}`);
for (const name of STEPS) {
  pyodide.runPython(`${name}.${name}(${name === "warm" ? "GUIDE, SIGNATURES, SYMBOLS" : ""})`);
}
const again = pyodide.runPython('" ".join(filter(drop.is_dropped, sys.modules))');
if (again) throw new Error(`imported again after they were dropped: ${again}`);
for (const name of STEPS) {
  pyodide.runPython(`vars(sys.modules.pop("${name}")).clear(); del ${name}`);
}
// Names that were looked up in types, many of them made for that alone.
pyodide.runPython("sys._clear_internal_caches()");
clearFree(pyodide._module);

const image = pyodide.makeMemorySnapshot();
const offset = new Uint32Array(image.buffer, image.byteOffset, 2)[1];
const fresh = await freshMemory();
chance = 9;
look_ms = 1009; // Python's allocator keeps how long two looks take, which seldom is a millisecond
const bytes = staticBytes(fresh);
const skip = differences(fresh.subarray(0, bytes), await freshMemory());
settle(fresh, { skip });
const memory = image.subarray(offset);
takeOut(memory, fresh.subarray(0, bytes));
const { data, ...layout } = withoutZeros(memory);
const base = { size: memory.length, offset, bytes, skip, check: checksum(fresh, { bytes }), ...layout };
fs.writeFileSync(out, image.subarray(0, offset));
fs.appendFileSync(out, data);
process.stdout.write(JSON.stringify(base));
process.exit(0);

// What was freed still holds old bytes, which would be compressed and carried along.
function clearFree(module) {
  const blocks = [];
  let top = module._sbrk(0);
  for (let size = MEBIBYTE; size >= SMALLEST_BLOCK; size /= 2) {
    while (module._sbrk(0) === top) {
      const block = module._malloc(size);
      module.HEAPU8.fill(0, block, block + size);
      blocks.push(block);
    }
    top = module._sbrk(0);
  }
  blocks.forEach((block) => module._free(block));
}

/** Takes what the module itself supplies out of a memory; what is put back differs by it again. */
function takeOut(memory, known) {
  for (let place = 0; place < known.length; place++) memory[place] ^= known[place];
}

/** The memory of a module in which Python has not started. */
function freshMemory() {
  return new Promise((resolve) => {
    loadPyodide({
      async createPyodideModule(settings) {
        settings.noInitialRun = true;
        const module = await create(settings);
        resolve(module.HEAPU8);
        return new Promise(() => {});
      },
    });
  });
}

/** From the first to the last block in which two memories differ, in bytes; between them is more
 * that differs from browser to browser. */
function differences(one, other) {
  const block = (memory, place) => memory.subarray(place * BLOCK, (place + 1) * BLOCK);
  const differs = (place) => Buffer.compare(block(one, place), block(other, place)) !== 0;
  const found = borders(one.length / BLOCK, differs).map((place) => place * BLOCK);
  return found.length ? [found[0], found.at(-1)] : [];
}

/** Where, in so many places, those begin and end of which something is true. */
function borders(places, isTrue) {
  const found = [];
  for (let place = 0; place <= places; place++) {
    if ((place < places && isTrue(place)) !== (found.length % 2 === 1)) found.push(place);
  }
  return found;
}

/** Where the first mebibyte of zeros begins: behind the module's own data, before its stack. */
function staticBytes(memory) {
  let zeros = 0;
  for (let place = 0; place < memory.length; place++) {
    zeros = memory[place] ? 0 : zeros + 1;
    if (zeros === MEBIBYTE) return Math.ceil((place + 1 - MEBIBYTE) / PAGE) * PAGE;
  }
  throw new Error("no end of the module's own data was found");
}
