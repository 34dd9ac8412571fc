// Mounts the module of every element that names one. Each module is one behaviour; without script
// the page works, with it it works better.

/** @typedef {{ mount: (element: HTMLElement) => void }} Module */

/** @type {Record<string, () => Promise<Module>>} */
const modules = {
  again: () => import('./again.js'),
  bench: () => import('./bench/bench.js'),
  change: () => import('./change.js'),
  drop: () => import('./drop.js'),
  first: () => import('./first.js'),
  history: () => import('./history.js'),
  instep: () => import('./instep.js'),
  making: () => import('./making.js'),
  piece: () => import('./piece.js'),
  under: () => import('./bench/under.js'),
};

/** Those that have come, so that what is put in anew works at once. @type {Map<string, Module>} */
const loaded = new Map();

/**
 * Mounts what is in `root`; also after a part of a page was put in anew.
 * @param {ParentNode} root
 */
export function mountAll(root) {
  for (const element of root.querySelectorAll('[data-module]')) {
    if (!(element instanceof HTMLElement) || element.dataset.mounted !== undefined) continue;
    element.dataset.mounted = '';
    for (const name of (element.dataset.module ?? '').split(' ')) {
      const module = loaded.get(name);
      if (module) {
        mount(module, element);
        continue;
      }
      modules[name]?.().then((come) => {
        loaded.set(name, come);
        mount(come, element);
      });
    }
  }
}

/**
 * @param {Module} module
 * @param {HTMLElement} element
 */
function mount(module, element) {
  module.mount(element);
  // Whoever waits for it, a test say, sees it here.
  element.dataset.ready = '';
}

mountAll(document);
