// Three canvases over each other: the blank below, the stones between, lines and signs on top. The
// top one has the focus and the pointer. Keeps them as sharp as the screen.

/** @typedef {{ width_px: number, height_px: number, ratio: number }} Size CSS px, and device px in one */

/** The canvases of one board. */
export class Stage {
  below = layer('board-layer');
  between = layer('board-layer');
  top = layer('board-layer board-top');
  /** @type {Size} */
  size = { width_px: 1, height_px: 1, ratio: 1 };

  /**
   * @param {HTMLElement} host positioned; it gives the size
   * @param {() => void} resized
   * @param {AbortSignal} until
   */
  constructor(host, resized, until) {
    this.host = host;
    host.prepend(this.below, this.between, this.top);
    for (const canvas of [this.below, this.between]) canvas.setAttribute('aria-hidden', 'true');
    const measure = () => {
      if (this.#measure()) resized();
    };
    const observer = new ResizeObserver(measure);
    observer.observe(host);
    until.addEventListener('abort', () => observer.disconnect());
    this.#watchRatio(measure, until);
    this.#measure();
  }

  /** @returns {boolean} whether anything changed */
  #measure() {
    const width_px = Math.max(1, this.host.clientWidth);
    const height_px = Math.max(1, this.host.clientHeight);
    const ratio = window.devicePixelRatio || 1;
    const old = this.size;
    if (old.width_px === width_px && old.height_px === height_px && old.ratio === ratio) return false;
    this.size = { width_px, height_px, ratio };
    for (const canvas of [this.below, this.between, this.top]) {
      canvas.width = Math.round(width_px * ratio);
      canvas.height = Math.round(height_px * ratio);
    }
    return true;
  }

  /**
   * A media query holds for one ratio only, so each change sets up the next.
   * @param {() => void} changed
   * @param {AbortSignal} until
   */
  #watchRatio(changed, until) {
    if (until.aborted) return;
    const query = matchMedia(`(resolution: ${window.devicePixelRatio}dppx)`);
    query.addEventListener('change', () => {
      changed();
      this.#watchRatio(changed, until);
    }, { once: true, signal: until });
  }
}

/** @param {string} name */
function layer(name) {
  const canvas = document.createElement('canvas');
  canvas.className = name;
  return canvas;
}

/** @param {HTMLCanvasElement} canvas */
export function context2d(canvas) {
  const ctx = canvas.getContext('2d');
  if (!ctx) throw new Error('a canvas gives no context');
  return ctx;
}
