// Starts Python and imports the engine. Each way to start is a function; they are tried in order.
import { loadPyodide } from "./pyodide/pyodide.mjs";

const ways = [startPlain];

/** Returns a function from request to reply, both JSON texts, by the first way that works. */
export async function start(archiveUrl) {
  let failure;
  for (const way of ways) {
    try {
      return await way(archiveUrl);
    } catch (error) {
      failure = error;
    }
  }
  throw failure;
}

async function startPlain(archiveUrl) {
  const [pyodide, archive] = await Promise.all([
    loadPyodide({ indexURL: new URL("./pyodide/", import.meta.url).href }),
    fetchBytes(archiveUrl),
  ]);
  const folder = `/lib/python${pyodide.runPython("'%d.%d' % __import__('sys').version_info[:2]")}/site-packages`;
  pyodide.unpackArchive(archive, "zip", { extractDir: folder });
  pyodide.runPython("import importlib; importlib.invalidate_caches()");
  const { reply } = pyodide.pyimport("engine.browser");
  const { GUIDE } = pyodide.pyimport("edition");
  return (request) => reply(request, GUIDE);
}

async function fetchBytes(url) {
  const response = await fetch(url);
  if (!response.ok) throw new Error(`${response.status} ${url}`);
  return response.arrayBuffer();
}
