// Pointer and wheel on the board: pan, pinch, carry, a drawn rectangle, a tap. Decides what a
// movement is; what it does is its owner's business.
/** @import { ScreenPoint } from '../types.d.ts' */

/** @typedef {'pan' | 'carry' | 'frame'} Drag */

/**
 * @typedef {object} Owner
 * @property {(at: ScreenPoint, e: PointerEvent) => Drag} press what a drag from here would be
 * @property {(right_px: number, down_px: number) => void} pan
 * @property {(factor: number, at: ScreenPoint) => void} zoom
 * @property {(drag: Drag, from: ScreenPoint, to: ScreenPoint) => void} drag not for `pan`
 * @property {(drag: Drag, from: ScreenPoint, to: ScreenPoint) => void} drop not for `pan`
 * @property {() => void} cancel
 * @property {(at: ScreenPoint, e: PointerEvent) => void} tap
 * @property {(at: ScreenPoint) => void} hover
 */

/** A pointer that moves less than this taps, CSS px; a finger rolls more than a mouse. */
const STILL_PX = { mouse: 4, touch: 9 };
/** Zoom of one px of a wheel's turn. Ours, by feel. */
const WHEEL_RATE = 0.0016;

/** The pointers on one canvas. */
export class Gestures {
  /** @type {Map<number, ScreenPoint>} */
  #down = new Map();
  /** @type {{ from: ScreenPoint, drag: Drag, begun: boolean } | undefined} */
  #single;
  #space = false;

  /**
   * @param {HTMLCanvasElement} canvas
   * @param {Owner} owner
   * @param {AbortSignal} signal
   */
  constructor(canvas, owner, signal) {
    this.canvas = canvas;
    this.owner = owner;
    canvas.addEventListener('pointerdown', (e) => this.#press(e), { signal });
    canvas.addEventListener('pointermove', (e) => this.#move(e), { signal });
    canvas.addEventListener('pointerup', (e) => this.#lift(e), { signal });
    canvas.addEventListener('pointercancel', (e) => this.#give_up(e), { signal });
    canvas.addEventListener('wheel', (e) => this.#wheel(e), { signal, passive: false });
    canvas.addEventListener('keydown', (e) => this.#hold(e, true), { signal });
    canvas.addEventListener('keyup', (e) => this.#hold(e, false), { signal });
    canvas.addEventListener('blur', () => { this.#space = false; }, { signal });
  }

  /** @param {PointerEvent} e */
  #press(e) {
    if (e.button > 1) return;
    const at = placeOf(e);
    this.canvas.setPointerCapture(e.pointerId);
    this.#down.set(e.pointerId, at);
    if (this.#down.size > 1) {
      if (this.#single?.begun && this.#single.drag !== 'pan') this.owner.cancel();
      this.#single = undefined;
      return;
    }
    const drag = this.#space || e.button === 1 ? 'pan' : this.owner.press(at, e);
    this.#single = { from: at, drag, begun: false };
  }

  /** @param {PointerEvent} e */
  #move(e) {
    const at = placeOf(e);
    const last = this.#down.get(e.pointerId);
    if (!last) {
      this.owner.hover(at);
      return;
    }
    if (this.#single) this.#dragTo(this.#single, last, at, e);
    else if (this.#down.size === 2) this.#pinch(e.pointerId, last, at);
    this.#down.set(e.pointerId, at);
  }

  /**
   * @param {{ from: ScreenPoint, drag: Drag, begun: boolean }} single
   * @param {ScreenPoint} last
   * @param {ScreenPoint} at
   * @param {PointerEvent} e
   */
  #dragTo(single, last, at, e) {
    const still_px = e.pointerType === 'mouse' ? STILL_PX.mouse : STILL_PX.touch;
    if (!single.begun && apart(single.from, at) < still_px) return;
    const from = single.begun ? last : single.from;
    single.begun = true;
    if (single.drag === 'pan') this.owner.pan(at.left - from.left, at.top - from.top);
    else this.owner.drag(single.drag, single.from, at);
    this.owner.hover(at);
  }

  /**
   * Two fingers: their middle pans, their distance zooms.
   * @param {number} id
   * @param {ScreenPoint} last
   * @param {ScreenPoint} at
   */
  #pinch(id, last, at) {
    const other = [...this.#down].find(([pointer]) => pointer !== id)?.[1];
    if (!other) return;
    this.owner.pan((at.left - last.left) / 2, (at.top - last.top) / 2);
    const middle = { left: (at.left + other.left) / 2, top: (at.top + other.top) / 2 };
    this.owner.zoom(Math.max(1, apart(at, other)) / Math.max(1, apart(last, other)), middle);
  }

  /** @param {PointerEvent} e */
  #lift(e) {
    const at = placeOf(e);
    this.#down.delete(e.pointerId);
    const single = this.#single;
    this.#single = undefined;
    if (!single) return;
    if (!single.begun) this.owner.tap(at, e);
    else if (single.drag !== 'pan') this.owner.drop(single.drag, single.from, at);
  }

  /** @param {PointerEvent} e */
  #give_up(e) {
    this.#down.delete(e.pointerId);
    if (this.#single?.begun && this.#single.drag !== 'pan') this.owner.cancel();
    this.#single = undefined;
  }

  /** @param {WheelEvent} e */
  #wheel(e) {
    e.preventDefault();
    const lines_px = e.deltaMode === WheelEvent.DOM_DELTA_LINE ? 18 : 1;
    // A pinch on a touchpad comes as a wheel with Ctrl, in finer steps.
    const rate = e.ctrlKey ? WHEEL_RATE * 5 : WHEEL_RATE;
    this.owner.zoom(Math.exp(-e.deltaY * lines_px * rate), placeOf(e));
  }

  /**
   * @param {KeyboardEvent} e
   * @param {boolean} down
   */
  #hold(e, down) {
    if (e.key !== ' ') return;
    e.preventDefault();
    this.#space = down;
  }
}

/** @param {MouseEvent} e @returns {ScreenPoint} */
function placeOf(e) {
  return { left: e.offsetX, top: e.offsetY };
}

/** @param {ScreenPoint} a @param {ScreenPoint} b */
function apart(a, b) {
  return Math.hypot(a.left - b.left, a.top - b.top);
}
