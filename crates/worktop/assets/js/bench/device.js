// What this device remembers: its name in the log, and what was switched on here.

/** @type {Map<string, string>} */
const now = new Map();

/**
 * @param {string} name
 * @returns {string | undefined}
 */
export function remembered(name) {
  const known = now.get(name);
  if (known !== undefined) return known;
  try {
    return localStorage.getItem(`stonelay.bench.${name}`) ?? undefined;
  } catch {
    return undefined;
  }
}

/** @param {string} name @param {string} value */
export function remember(name, value) {
  now.set(name, value);
  try {
    localStorage.setItem(`stonelay.bench.${name}`, value);
  } catch {
    // A browser may forbid storage: it holds until the page is left.
  }
}

/** A name for this device, made up once: the log tells two tablets apart by it. */
export function deviceName() {
  const known = remembered('device');
  if (known) return known;
  const touch = window.matchMedia('(pointer: coarse)').matches;
  const name = `${touch ? 'tablet' : 'computer'} ${Math.floor(1000 + Math.random() * 9000)}`;
  remember('device', name);
  return name;
}
