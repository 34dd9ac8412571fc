// The light over the board. It follows the pointer or the tilt of the tablet, softly; under
// reduced motion it stands still.

/** The share of the way that the light goes in one frame. Ours, by eye. */
const EASE = 0.16;
/** Tilt in degrees that brings the light from the middle to the edge. */
const TILT_DEG = 28;

/** Where the light stands, in shares of the board (0 to 1, beyond them it stands outside). */
export class Glint {
  x = 0.3;
  y = -0.15;
  #to_x = 0.3;
  #to_y = -0.15;
  #rest_beta = /** @type {number | undefined} */ (undefined);
  #still = matchMedia('(prefers-reduced-motion: reduce)');

  /**
   * @param {() => void} wake asks for a frame
   * @param {AbortSignal} until
   */
  constructor(wake, until) {
    this.wake = wake;
    window.addEventListener('deviceorientation', (e) => this.#tilted(e), { signal: until });
  }

  /**
   * @param {number} x share of the board's width
   * @param {number} y share of its height
   */
  pointAt(x, y) {
    if (this.#still.matches) return;
    this.#to_x = x;
    this.#to_y = y;
    this.wake();
  }

  /** Go a step. @returns {boolean} whether there is more to go */
  step() {
    const dx = this.#to_x - this.x;
    const dy = this.#to_y - this.y;
    this.x += dx * EASE;
    this.y += dy * EASE;
    return Math.abs(dx) + Math.abs(dy) > 0.004;
  }

  /** @param {DeviceOrientationEvent} e */
  #tilted(e) {
    if (e.beta === null || e.gamma === null) return;
    // A tablet leans as it stands: its first reading is rest, and rest slowly follows.
    this.#rest_beta ??= e.beta;
    this.#rest_beta += (e.beta - this.#rest_beta) * 0.01;
    this.pointAt(0.5 + e.gamma / TILT_DEG / 2, 0.5 + (e.beta - this.#rest_beta) / TILT_DEG / 2);
  }
}
