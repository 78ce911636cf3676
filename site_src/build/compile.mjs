// Compiles every Python file of a folder with Pyodide's own Python: node compile.mjs PYODIDE FOLDER
// Without docstrings, assertions and columns of tracebacks: nobody reads them in a browser.
import { pathToFileURL } from "node:url";

const [pyodideFile, folder] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(pyodideFile).href);
const pyodide = await loadPyodide({ env: { PYTHONNODEBUGRANGES: "1" } });
pyodide.mountNodeFS("/stage", folder);
const good = pyodide.runPython(`
import compileall, py_compile
compileall.compile_dir(
    "/stage", quiet=1, legacy=True, force=True, stripdir="/stage", optimize=2,
    invalidation_mode=py_compile.PycInvalidationMode.UNCHECKED_HASH,
)
`);
process.exit(good ? 0 : 1);
