// The theme's colours as the canvases need them: by role, resolved by the browser, so that light,
// dark and forced colours come through.
/** @import { Rgb } from './gl.js' */

const ROLES = /** @type {const} */ ([
  'surface', 'surface-2', 'ink', 'ink-2', 'line', 'accent', 'accent-ink', 'focus', 'warn', 'bad', 'good',
]);

/** @typedef {Record<typeof ROLES[number], string>} Inks */

/**
 * @param {HTMLElement} host
 * @returns {Inks}
 */
export function readInks(host) {
  const probe = document.createElement('span');
  probe.hidden = true;
  host.append(probe);
  const pairs = ROLES.map((role) => {
    probe.style.color = `var(--board-${role}, var(--${role}))`;
    return [role, getComputedStyle(probe).color];
  });
  probe.remove();
  return Object.fromEntries(pairs);
}

/**
 * A colour in numbers, whatever its notation: one pixel is painted and read back.
 * @param {string} colour
 * @returns {Rgb}
 */
export function numbersOf(colour) {
  const canvas = document.createElement('canvas');
  canvas.width = canvas.height = 1;
  const ctx = canvas.getContext('2d', { willReadFrequently: true });
  if (!ctx) return [0.5, 0.5, 0.5];
  ctx.fillStyle = colour;
  ctx.fillRect(0, 0, 1, 1);
  const [r = 0, g = 0, b = 0] = ctx.getImageData(0, 0, 1, 1).data;
  return [r / 255, g / 255, b / 255];
}

/**
 * Call back whenever the theme may have changed.
 * @param {() => void} changed
 * @param {AbortSignal} until
 */
export function watchTheme(changed, until) {
  for (const query of ['(prefers-color-scheme: dark)', '(forced-colors: active)', '(prefers-contrast: more)']) {
    matchMedia(query).addEventListener('change', changed, { signal: until });
  }
  const root = new MutationObserver(changed);
  root.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme', 'class'] });
  until.addEventListener('abort', () => root.disconnect());
}

/**
 * The inks that the graphics card needs, as numbers.
 * @param {Inks} inks
 */
export function numbersFor(inks) {
  return {
    accent: numbersOf(inks.accent), accent_ink: numbersOf(inks['accent-ink']), warn: numbersOf(inks.warn),
    ink: numbersOf(inks.ink), surface: numbersOf(inks.surface),
  };
}
