// Packs Pyodide's library anew, with byte code for what a start and pyodide-build import of it:
//   node library.mjs PYODIDE TOOLS OUT
// TOOLS holds pyodide-build and what it needs. Chance and dates have no part in the bytes.
import fs from "node:fs";
import { pathToFileURL } from "node:url";
import "./faults.mjs";

const [pyodideFile, tools, out] = process.argv.slice(2);
const { loadPyodide } = await import(pathToFileURL(pyodideFile).href);
const pyodide = await loadPyodide({
  env: { PYTHONHASHSEED: "0", PYTHONNODEBUGRANGES: "1", PYTHONOPTIMIZE: "2" },
});
pyodide.mountNodeFS("/tools", tools);
pyodide.runPython(`
import importlib.util, marshal, sys, zipfile, zipimport
sys.path.append("/tools")
import pyodide_build.cli.py_compile

UNCHECKED = (1).to_bytes(4, "little") + bytes(8)  # by hash, which is compared with no source
library = next(place for place in sys.path if place.endswith(".zip"))
compiled = {}
for module in list(sys.modules.values()):
    spec = getattr(module, "__spec__", None)
    if spec and isinstance(spec.loader, zipimport.zipimporter):
        code = marshal.dumps(spec.loader.get_code(spec.name))
        name = spec.origin.removeprefix(f"{library}/")
        compiled[name] = importlib.util.MAGIC_NUMBER + UNCHECKED + code
with zipfile.ZipFile(library) as given, zipfile.ZipFile("/packed.zip", "w") as packed:
    for each in given.infolist():
        name, data = each.filename, given.read(each)
        if name in compiled:
            name, data = f"{name}c", compiled[name]
        packed.writestr(zipfile.ZipInfo(name, each.date_time), data)
`);
fs.writeFileSync(out, pyodide.FS.readFile("/packed.zip"));
