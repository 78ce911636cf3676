// Searches a built site as its pages do: the theme's own search, fed with the site's own index.
// node search.mjs SITE < queries as a JSON list; prints for each the locations found, best first.
import { readdirSync, readFileSync } from "node:fs";
import { createContext, runInContext } from "node:vm";

const site = process.argv[2];
const queries = JSON.parse(readFileSync(0, "utf8"));
const workers = `${site}/assets/javascripts/workers`;
const [script] = readdirSync(workers).filter((name) => /^search\..*\.js$/.test(name));
const index = JSON.parse(readFileSync(`${site}/search/search_index.json`, "utf8"));

let heard = () => {};
let answered = () => {};
const world = createContext({
  console,
  addEventListener: (_, listener) => (heard = listener),
  postMessage: (message) => answered(message),
});
runInContext("globalThis.self = globalThis", world);
runInContext(readFileSync(`${workers}/${script}`, "utf8"), world);

function ask(type, data) {
  return new Promise((resolve) => {
    answered = resolve;
    heard({ data: { type, data } });
  });
}

await ask(0, { ...index, options: { suggest: false } });
const found = [];
for (const query of queries) {
  const { data } = await ask(2, query);
  found.push(data.items.map((page) => page.map((section) => section.location)));
}
process.stdout.write(JSON.stringify(found));
