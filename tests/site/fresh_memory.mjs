// Makes modules in which Python has not started, each with another clock and other chance:
//   node fresh_memory.mjs PYODIDE BASE
// prints, as JSON, the checksum of each as the browser takes it, by the layout BASE (JSON).
import { pathToFileURL } from "node:url";
import { checksum, settle } from "../../site_src/shell/memory.js";

// Taken off the command line, which a module would otherwise keep.
const [pyodideFile, base] = process.argv.splice(1).slice(1);
const { loadPyodide } = await import(pathToFileURL(pyodideFile).href);
const asm = pathToFileURL(pyodideFile.replace("pyodide.mjs", "pyodide.asm.mjs")).href;
const { default: create } = await import(asm);

const PACES_MS = [0, 1, 86_400_017]; // a clock that stands, one of a busy machine, one of days
const found = [];
for (const pace of PACES_MS) {
  let clock_ms = 1_000 * pace;
  performance.now = () => (clock_ms += pace);
  found.push(await fresh());
}
console.log(JSON.stringify(found));
process.exit(0);

function fresh() {
  return new Promise((resolve) => {
    loadPyodide({
      async createPyodideModule(settings) {
        settings.noInitialRun = true;
        const module = await create(settings);
        settle(module.HEAPU8, JSON.parse(base));
        resolve(checksum(module.HEAPU8, JSON.parse(base)));
        return new Promise(() => {});
      },
    });
  });
}
