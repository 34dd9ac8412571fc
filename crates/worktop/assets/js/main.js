// Mounts the module of every element that names one. Each module is one behaviour; without script
// the page works, with it it works better.

/** @type {Record<string, () => Promise<{ mount: (element: HTMLElement) => void }>>} */
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

/**
 * Mounts what is in `root`; also after a part of a page was put in anew.
 * @param {ParentNode} root
 */
export function mountAll(root) {
  for (const element of root.querySelectorAll('[data-module]')) {
    if (!(element instanceof HTMLElement) || element.dataset.mounted !== undefined) continue;
    element.dataset.mounted = '';
    for (const name of (element.dataset.module ?? '').split(' ')) {
      modules[name]?.().then((module) => {
        module.mount(element);
        // Whoever waits for it, a test say, sees it here.
        element.dataset.ready = '';
      });
    }
  }
}

mountAll(document);
