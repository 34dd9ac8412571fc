// What a key means while the board has the focus. Tab is never taken: nobody is trapped.
/** @import { Tool } from '../types.d.ts' */

/**
 * @typedef {{ name: 'arrow', dx: number, dy: number, big: boolean }
 *   | { name: 'act' | 'give_up' | 'zoom_in' | 'zoom_out' | 'whole' | 'true_size' | 'take_away'
 *     | 'first' | 'last' | 'choose' | 'row' | 'kind' | 'bare_spot' }
 *   | { name: 'tool', tool: Tool }} Command
 */

/**
 * @typedef {object} Press what of a keyboard event matters
 * @property {string} key
 * @property {boolean} [shiftKey]
 * @property {boolean} [ctrlKey]
 * @property {boolean} [altKey]
 * @property {boolean} [metaKey]
 */

/** @type {Readonly<Record<string, Command>>} */
const NAMED = {
  Enter: { name: 'act' },
  Escape: { name: 'give_up' },
  Delete: { name: 'take_away' },
  Home: { name: 'first' },
  End: { name: 'last' },
};

/** @type {Readonly<Record<string, readonly [number, number]>>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/**
 * The single-character shortcuts. They can be switched off.
 * @type {Readonly<Record<string, Command>>}
 */
export const SINGLE = {
  '+': { name: 'zoom_in' },
  '=': { name: 'zoom_in' },
  '-': { name: 'zoom_out' },
  0: { name: 'whole' },
  1: { name: 'true_size' },
  l: { name: 'tool', tool: 'look' },
  m: { name: 'tool', tool: 'move' },
  t: { name: 'tool', tool: 'take_away' },
  a: { name: 'tool', tool: 'add' },
  r: { name: 'tool', tool: 'recolour' },
  p: { name: 'tool', tool: 'pin' },
  c: { name: 'choose' },
  w: { name: 'row' },
  k: { name: 'kind' },
  b: { name: 'bare_spot' },
};

/**
 * The command of a key, or undefined if the key is not the board's.
 * @param {Press} press
 * @param {boolean} single whether single-character shortcuts are on
 * @returns {Command | undefined}
 */
export function commandOf(press, single) {
  if (press.ctrlKey || press.altKey || press.metaKey) return undefined;
  const arrow = Object.hasOwn(ARROWS, press.key) ? ARROWS[press.key] : undefined;
  if (arrow) return { name: 'arrow', dx: arrow[0], dy: arrow[1], big: press.shiftKey ?? false };
  if (Object.hasOwn(NAMED, press.key)) return NAMED[press.key];
  const key = press.key.toLowerCase();
  return single && Object.hasOwn(SINGLE, key) ? SINGLE[key] : undefined;
}
