// Elements made in one line, without markup in strings.

let n_ids = 0;

/** An id that no other element of the page has. @param {string} stem */
export const newId = (stem) => `board-${stem}-${++n_ids}`;

/**
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, string | number | boolean>} [attributes] `true` is an attribute without value, `false` none
 * @param {...(Node | string)} children
 * @returns {HTMLElementTagNameMap[T]}
 */
export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value !== false) element.setAttribute(name, value === true ? '' : String(value));
  }
  element.append(...children);
  return element;
}

/**
 * @param {string} text
 * @param {() => void} press
 * @param {Record<string, string | number | boolean>} [attributes]
 */
export function button(text, press, attributes = {}) {
  const made = make('button', { type: 'button', class: 'board-button', ...attributes }, text);
  made.addEventListener('click', press);
  return made;
}

/**
 * A checkbox in its label.
 * @param {string} text
 * @param {boolean} on
 * @param {(on: boolean) => void} change
 */
export function checkbox(text, on, change) {
  const box = make('input', { type: 'checkbox', checked: on });
  box.addEventListener('change', () => change(box.checked));
  return make('label', { class: 'board-check' }, box, make('span', {}, text));
}

/**
 * A small drawing in the colour of the text.
 * @param {string} path SVG path data in a box of 24 by 24
 */
export function icon(path) {
  const ns = 'http://www.w3.org/2000/svg';
  const svg = document.createElementNS(ns, 'svg');
  svg.setAttribute('viewBox', '0 0 24 24');
  svg.setAttribute('aria-hidden', 'true');
  svg.setAttribute('class', 'board-icon');
  const line = document.createElementNS(ns, 'path');
  line.setAttribute('d', path);
  svg.append(line);
  return svg;
}
