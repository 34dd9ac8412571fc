// Mounts the module of every element that names one. Each module is one behaviour; without script
// the page works, with it it works better.

/** @type {Record<string, () => Promise<{ mount: (element: HTMLElement) => void }>>} */
const modules = {
  piece: () => import('./piece.js'),
  bench: () => import('./bench/bench.js'),
  under: () => import('./bench/under.js'),
  instep: () => import('./instep.js'),
};

for (const element of document.querySelectorAll('[data-module]')) {
  if (!(element instanceof HTMLElement)) continue;
  for (const name of (element.dataset.module ?? '').split(' ')) {
    const load = modules[name];
    if (load) load().then((module) => module.mount(element));
  }
}
