// What can be laid over the stones as lines and figures: bare spots, zones, stretches. Lines are built
// once for the data, in mm; a frame only strokes them.
/** @import { BoardData, LaidOver, Stones } from '../types.d.ts' */
/** @import { View } from './view.js' */
/** @import { Inks } from './inks.js' */

/** How a board begins. @type {Readonly<LaidOver>} */
export const NOTHING_LAID_OVER = {
  bare_spots: false, rows: false, order: false, numbers: false,
  sizes: false, marks: false, zones: false, stretches: false,
};

/** Bare spots narrower than this on the screen have no figure. */
const FIGURE_FROM_PX = 26;

/** The lines of one piece. */
export class Lines {
  /**
   * @param {BoardData} data
   * @param {Stones} stones
   */
  constructor(data, stones) {
    this.data = data;
    this.blank = new Path2D(data.blank.path);
    this.zones = data.zones.map((zone) => new Path2D(zone.path));
    this.zone_tops = topsOf(data, stones);
    this.spots = new Path2D();
    for (const spot of data.bare_spots) {
      const r = spot.diameter_mm / 2;
      this.spots.moveTo(spot.x + r, spot.y);
      this.spots.arc(spot.x, spot.y, r, 0, 2 * Math.PI);
    }
    this.stretches = data.stretches.map((s) => ({ number: s.number, ...middleOf(stones, s.order) }));
  }

  /**
   * @param {CanvasRenderingContext2D} ctx
   * @param {View} view
   * @param {number} ratio
   * @param {Inks} inks
   * @param {LaidOver} on
   */
  paint(ctx, view, ratio, inks, on) {
    const s = view.scale;
    ctx.setTransform(ratio * s, 0, 0, ratio * s, ratio * view.left, ratio * view.top);
    ctx.lineJoin = ctx.lineCap = 'round';
    if (on.zones) {
      for (const zone of this.zones) {
        twice(ctx, zone, inks.surface, 4 / s, inks.accent, 2 / s, [9 / s, 5 / s]);
      }
    }
    if (on.bare_spots) {
      ctx.fillStyle = inks.warn;
      ctx.globalAlpha = 0.28;
      ctx.fill(this.spots);
      ctx.globalAlpha = 1;
      twice(ctx, this.spots, inks.surface, 3.5 / s, inks.warn, 1.75 / s);
    }
    ctx.setTransform(ratio, 0, 0, ratio, 0, 0);
    if (on.bare_spots) this.#paintFigures(ctx, view, inks);
    if (on.zones) {
      this.zone_tops.forEach((p, z) => {
        if (p) tag(ctx, this.data.zones[z]?.name ?? '', view.screenOf(p), inks.accent, inks['accent-ink']);
      });
    }
    if (on.stretches) {
      for (const { number, x, y } of this.stretches) {
        tag(ctx, String(number), view.screenOf({ x, y }), inks.ink, inks.surface);
      }
    }
  }

  /**
   * @param {CanvasRenderingContext2D} ctx
   * @param {View} view
   * @param {Inks} inks
   */
  #paintFigures(ctx, view, inks) {
    ctx.font = '600 12px system-ui, sans-serif';
    ctx.textAlign = 'center';
    ctx.textBaseline = 'middle';
    ctx.lineWidth = 3;
    ctx.strokeStyle = inks.surface;
    ctx.fillStyle = inks.ink;
    for (const spot of this.data.bare_spots) {
      if (spot.diameter_mm * view.scale < FIGURE_FROM_PX) continue;
      const { left, top } = view.screenOf(spot);
      if (left < 0 || top < 0 || left > view.width_px || top > view.height_px) continue;
      const figure = spot.diameter_mm.toFixed(1);
      ctx.strokeText(figure, left, top);
      ctx.fillText(figure, left, top);
    }
  }
}

/**
 * A short text on a rounded plate.
 * @param {CanvasRenderingContext2D} ctx CSS px
 * @param {string} text
 * @param {{ left: number, top: number }} at its middle
 * @param {string} plate
 * @param {string} ink
 */
export function tag(ctx, text, at, plate, ink) {
  ctx.font = '600 13px system-ui, sans-serif';
  ctx.textAlign = 'center';
  ctx.textBaseline = 'middle';
  const wide = Math.max(24, ctx.measureText(text).width + 14);
  ctx.beginPath();
  ctx.roundRect(at.left - wide / 2, at.top - 12, wide, 24, 12);
  ctx.fillStyle = plate;
  ctx.fill();
  ctx.strokeStyle = ink;
  ctx.lineWidth = 1.5;
  ctx.stroke();
  ctx.fillStyle = ink;
  ctx.fillText(text, at.left, at.top + 0.5);
}

/**
 * A line with a paler one under it: seen on any ground.
 * @param {CanvasRenderingContext2D} ctx
 * @param {Path2D} path
 * @param {string} under
 * @param {number} under_width
 * @param {string} over
 * @param {number} over_width
 * @param {number[]} [dash]
 */
function twice(ctx, path, under, under_width, over, over_width, dash = []) {
  ctx.strokeStyle = under;
  ctx.lineWidth = under_width;
  ctx.stroke(path);
  ctx.setLineDash(dash);
  ctx.strokeStyle = over;
  ctx.lineWidth = over_width;
  ctx.stroke(path);
  ctx.setLineDash([]);
}

/**
 * The topmost stone of each zone: where its name stands.
 * @param {BoardData} data
 * @param {Stones} s
 */
function topsOf(data, s) {
  /** @type {({ x: number, y: number } | undefined)[]} */
  const tops = data.zones.map(() => undefined);
  for (let i = 0; i < s.n; i++) {
    const zone = s.zone[i] ?? -1;
    if (zone < 0 || zone >= tops.length) continue;
    const y = (s.y[i] ?? 0) - (s.radius[i] ?? 0);
    const top = tops[zone];
    if (!top || y < top.y) tops[zone] = { x: s.x[i] ?? 0, y };
  }
  return tops;
}

/**
 * @param {Stones} s
 * @param {readonly number[]} places place numbers
 */
function middleOf(s, places) {
  let [x, y] = [0, 0];
  for (const place of places) {
    x += s.x[place - 1] ?? 0;
    y += s.y[place - 1] ?? 0;
  }
  const n = Math.max(1, places.length);
  return { x: x / n, y: y / n };
}
