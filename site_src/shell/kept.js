// What may stay on this device, and only because somebody asked for it: visits that people left
// with the shop, and the marks of staff. Show mode wipes everything else when it starts over.
export const VISITS = "rig-visits";
export const MARKS = "rig-marks";

export function read(key, empty) {
  try {
    return JSON.parse(localStorage.getItem(key)) ?? empty;
  } catch {
    return empty;
  }
}

/** Tells whether it could be kept. */
export function keep(key, value) {
  try {
    localStorage.setItem(key, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

export function drop(key) {
  try {
    localStorage.removeItem(key);
  } catch {
    // Without storage there is nothing to remove.
  }
}

export function wipeTheRest() {
  try {
    sessionStorage.clear();
    const others = Object.keys(localStorage).filter((key) => key !== VISITS && key !== MARKS);
    for (const key of others) localStorage.removeItem(key);
  } catch {
    // Without storage there is nothing to remove.
  }
}
