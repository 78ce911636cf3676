// What a download takes on this line: judged by what the browser says of it, and by how the page
// itself came.
const SLOW_LINKS = ["slow-2g", "2g", "3g"];
const ENOUGH_BYTES = 16_000; // what comes in one breath tells nothing of the line
const SMALL_BYTES = 2_000;
const LONG_S = 20;

/** Seconds that so many bytes take, about; undefined where nothing is known of the line. */
export function secondsFor(bytes) {
  const rate = Math.max(0, ...busyTimes().map(bytesPerSecond)); // at best, the line was all theirs
  return rate ? bytes / rate : undefined;
}

/** Whether a download of so many bytes is asked for first: it takes long, or data may be costly. */
export function isDear(bytes) {
  const link = navigator.connection;
  if (link?.saveData || SLOW_LINKS.includes(link?.effectiveType)) return true;
  if (matchMedia("(prefers-reduced-data: reduce)").matches) return true;
  return isLong(secondsFor(bytes));
}

export const isLong = (seconds) => seconds > LONG_S;

// While a line gets up to speed, about half a round trip goes by with nothing on it.
function bytesPerSecond({ bytes, from, to }) {
  if (bytes < ENOUGH_BYTES) return 0;
  const trips = bodies()
    .filter(({ transferSize }) => transferSize < SMALL_BYTES)
    .map(({ requestStart, responseEnd }) => responseEnd - requestStart);
  const trip = Math.min(...trips, to - from) * Math.sign(trips.length);
  return (1000 * bytes) / Math.max(1, to - from - trip / 2);
}

// Files that come at the same time share the line.
function busyTimes() {
  const busy = [];
  for (const { transferSize: bytes, responseStart: from, responseEnd: to } of bodies()) {
    const last = busy.at(-1);
    if (last && from <= last.to) Object.assign(last, { bytes: last.bytes + bytes, to: Math.max(last.to, to) });
    else busy.push({ bytes, from, to });
  }
  return busy;
}

// What came out of a cache had no body on its way.
function bodies() {
  return ["navigation", "resource"]
    .flatMap((kind) => performance.getEntriesByType(kind))
    .filter((each) => each.responseEnd && each.encodedBodySize && each.transferSize >= each.encodedBodySize)
    .sort((one, other) => one.responseStart - other.responseStart);
}
