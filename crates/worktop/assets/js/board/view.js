// Where the piece lies on the screen: one scale and one shift, and the ways a maker changes them.
/** @import { PagePoint, ScreenPoint, PageBox } from '../types.d.ts' */

/** Never closer than this, CSS px in a mm: a 1.5 mm stone then spans 300 px. Ours, by eye. */
const CLOSEST_PX_PER_MM = 200;
/** Never farther than this share of the whole piece's scale. Ours, by eye. */
const FARTHEST_SHARE = 0.4;
/** So much of the board, px, always shows the piece: it cannot be lost. */
const KEEP_PX = 48;

/** A view of one piece on one board. Mutable: every call leaves it valid. */
export class View {
  /** CSS px in a mm. */
  scale = 1;
  /** Where the box's top left corner stands on the board, CSS px. */
  left = 0;
  top = 0;
  width_px = 1;
  height_px = 1;
  /** @type {PageBox} */
  piece = { x: 0, y: 0, width: 1, height: 1 };
  /** True until the maker pans or zooms: then a new size of the board fits anew. */
  fitted = true;

  /**
   * @param {PagePoint} p
   * @returns {ScreenPoint}
   */
  screenOf(p) {
    return { left: this.left + p.x * this.scale, top: this.top + p.y * this.scale };
  }

  /**
   * @param {ScreenPoint} s
   * @returns {PagePoint}
   */
  pageOf(s) {
    return { x: (s.left - this.left) / this.scale, y: (s.top - this.top) / this.scale };
  }

  /** The part of the page that the board shows, mm. @returns {PageBox} */
  shown() {
    const corner = this.pageOf({ left: 0, top: 0 });
    return { ...corner, width: this.width_px / this.scale, height: this.height_px / this.scale };
  }

  /**
   * Tell the view how large the board is, CSS px. The middle stays in the middle.
   * @param {number} width_px
   * @param {number} height_px
   */
  resize(width_px, height_px) {
    const middle = this.pageOf({ left: this.width_px / 2, top: this.height_px / 2 });
    this.width_px = Math.max(1, width_px);
    this.height_px = Math.max(1, height_px);
    if (this.fitted) this.fit();
    else this.centre(middle);
  }

  /**
   * Show a box whole, the piece if none is given, with a margin around it.
   * @param {PageBox} [box]
   */
  fit(box) {
    const b = box ?? this.piece;
    this.scale = this.#within(scaleFor(b, this.width_px, this.height_px));
    this.centre({ x: b.x + b.width / 2, y: b.y + b.height / 2 });
    this.fitted = box === undefined;
  }

  /** @param {PagePoint} p */
  centre(p) {
    this.left = this.width_px / 2 - p.x * this.scale;
    this.top = this.height_px / 2 - p.y * this.scale;
    this.#keep();
  }

  /**
   * @param {number} right_px
   * @param {number} down_px
   */
  pan(right_px, down_px) {
    this.left += right_px;
    this.top += down_px;
    this.fitted = false;
    this.#keep();
  }

  /**
   * Zoom by a factor; what lies under `at` stays there (the middle if nothing is given).
   * @param {number} factor
   * @param {ScreenPoint} [at]
   */
  zoom(factor, at) {
    this.zoomTo(this.scale * factor, at);
  }

  /**
   * Set the scale, CSS px in a mm; what lies under `at` stays there.
   * @param {number} scale
   * @param {ScreenPoint} [at]
   */
  zoomTo(scale, at) {
    const fixed = at ?? { left: this.width_px / 2, top: this.height_px / 2 };
    const page = this.pageOf(fixed);
    this.scale = this.#within(scale);
    this.left = fixed.left - page.x * this.scale;
    this.top = fixed.top - page.y * this.scale;
    this.fitted = false;
    this.#keep();
  }

  /**
   * Pan as little as shows this place at least `margin_px` inside the board.
   * @param {PagePoint} p
   * @param {number} margin_px
   */
  follow(p, margin_px) {
    const s = this.screenOf(p);
    const right = push(s.left, margin_px, this.width_px);
    const down = push(s.top, margin_px, this.height_px);
    if (right !== 0 || down !== 0) this.pan(right, down);
  }

  /** @param {number} scale */
  #within(scale) {
    const whole = scaleFor(this.piece, this.width_px, this.height_px);
    return Math.min(CLOSEST_PX_PER_MM, Math.max(whole * FARTHEST_SHARE, scale));
  }

  #keep() {
    const p = this.piece;
    const right = p.x + p.width;
    const bottom = p.y + p.height;
    const keep_x = Math.min(KEEP_PX, this.width_px / 2);
    const keep_y = Math.min(KEEP_PX, this.height_px / 2);
    this.left = clamp(this.left, keep_x - right * this.scale, this.width_px - keep_x - p.x * this.scale);
    this.top = clamp(this.top, keep_y - bottom * this.scale, this.height_px - keep_y - p.y * this.scale);
  }
}

/**
 * A round length for the scale bar, at most `room_px` long.
 * @param {number} scale CSS px in a mm
 * @param {number} room_px
 * @returns {number} mm: 1, 2 or 5 times a power of ten
 */
export function barLength_mm(scale, room_px) {
  const most = room_px / scale;
  const ten = 10 ** Math.floor(Math.log10(most));
  for (const step of [5, 2]) if (step * ten <= most) return step * ten;
  return ten;
}

/**
 * @param {PageBox} box
 * @param {number} width_px
 * @param {number} height_px
 */
function scaleFor(box, width_px, height_px) {
  const margin = Math.min(40, Math.min(width_px, height_px) * 0.06);
  const room_x = Math.max(1, width_px - 2 * margin);
  const room_y = Math.max(1, height_px - 2 * margin);
  return Math.min(room_x / Math.max(box.width, 1e-3), room_y / Math.max(box.height, 1e-3));
}

/**
 * @param {number} at
 * @param {number} margin
 * @param {number} size
 */
function push(at, margin, size) {
  const m = Math.min(margin, size / 2);
  return clamp(at, m, size - m) - at;
}

/**
 * @param {number} v
 * @param {number} low
 * @param {number} high
 */
function clamp(v, low, high) {
  return Math.min(Math.max(v, Math.min(low, high)), Math.max(low, high));
}
