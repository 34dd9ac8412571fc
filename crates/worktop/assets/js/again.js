// Work is going on: looks again by itself.

/** Between two looks, ms. */
const WAIT = 700;

/**
 * @param {HTMLElement} _element
 */
export function mount(_element) {
  setTimeout(() => location.reload(), WAIT);
}
