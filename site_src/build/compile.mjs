// Compiles the wheels and archives of a folder for Pyodide's own Python:
//   node compile.mjs PYODIDE LIBRARY TOOLS FOLDER
// LIBRARY is Pyodide's as byte code, TOOLS holds pyodide-build and what it needs. Without docstrings,
// assertions and columns of tracebacks: nobody reads them in a browser. The date that is set lets the
// byte code be checked against no file's time, so that it is the same at every build.
import { pathToFileURL } from "node:url";
import "./faults.mjs";

const [pyodideFile, stdLibURL, tools, folder] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(pyodideFile).href);
const pyodide = await loadPyodide({
  stdLibURL,
  env: {
    PYTHONNODEBUGRANGES: "1",
    PYTHONOPTIMIZE: "2",
    SOURCE_DATE_EPOCH: "315532800",
  },
});
pyodide.mountNodeFS("/tools", tools);
pyodide.mountNodeFS("/stage", folder);
pyodide.runPython(`
import sys
sys.path.append("/tools")
from pyodide_build.cli.py_compile import main
main(["/stage", "--silent", "--compression-level", "0"], standalone_mode=False)
`);
