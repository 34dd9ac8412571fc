// What a maker has set for the board on this device.

/** How things stand before anything is set. */
const AT_FIRST = { single_keys: true };

/** @typedef {keyof typeof AT_FIRST} Setting */

/** Holds when the browser keeps nothing. @type {Map<Setting, boolean>} */
const now = new Map();

/** @param {Setting} name */
export function readSetting(name) {
  const set = now.get(name);
  if (set !== undefined) return set;
  let value = AT_FIRST[name];
  try {
    const kept = localStorage.getItem(`stonelay.board.${name}`);
    if (kept !== null) value = kept === 'on';
  } catch {
    // A browser may forbid storage; then the first value holds.
  }
  now.set(name, value);
  return value;
}

/** @param {Setting} name @param {boolean} value */
export function keepSetting(name, value) {
  now.set(name, value);
  try {
    localStorage.setItem(`stonelay.board.${name}`, value ? 'on' : 'off');
  } catch {
    // As above: it holds until the page is left.
  }
}
