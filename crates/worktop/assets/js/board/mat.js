// What lies under the stones: the mat with its millimetre lines, and the blank.
/** @import { BoardData } from '../types.d.ts' */
/** @import { View } from './view.js' */
/** @import { Inks } from './inks.js' */
import { barLength_mm } from './view.js';

/** The blank's rim of shade: width in px and strength. Ours, by eye. */
const SHADE = /** @type {const} */ ([
  [18, 0.012], [15.5, 0.014], [13, 0.016], [10.5, 0.02], [8, 0.026], [5.5, 0.04], [3.5, 0.07], [1.5, 0.16],
]);

/**
 * @param {CanvasRenderingContext2D} ctx
 * @param {View} view
 * @param {number} ratio device px in a CSS px
 * @param {Inks} inks
 * @param {BoardData} data
 * @param {Path2D} blank
 */
export function paintMat(ctx, view, ratio, inks, data, blank) {
  ctx.setTransform(ratio, 0, 0, ratio, 0, 0);
  ctx.fillStyle = inks['surface-2'];
  ctx.fillRect(0, 0, view.width_px, view.height_px);
  paintLines(ctx, view, inks.line);
  const s = view.scale;
  ctx.setTransform(ratio * s, 0, 0, ratio * s, ratio * view.left, ratio * view.top);
  ctx.lineJoin = 'round';
  ctx.strokeStyle = '#000';
  ctx.translate(0, 2 / s);
  for (const [width_px, strength] of SHADE) {
    ctx.globalAlpha = strength;
    ctx.lineWidth = width_px / s;
    ctx.stroke(blank);
  }
  ctx.translate(0, -2 / s);
  ctx.globalAlpha = 1;
  ctx.fillStyle = data.blank.colour;
  ctx.fill(blank, 'evenodd');
  ctx.strokeStyle = inks['ink-2'];
  ctx.globalAlpha = 0.55;
  ctx.lineWidth = 1 / s;
  ctx.stroke(blank);
  ctx.globalAlpha = 1;
}

/**
 * @param {CanvasRenderingContext2D} ctx
 * @param {View} view
 * @param {string} ink
 */
function paintLines(ctx, view, ink) {
  const step_mm = barLength_mm(view.scale, 110);
  const shown = view.shown();
  ctx.strokeStyle = ink;
  ctx.lineWidth = 1;
  ctx.globalAlpha = 0.4;
  ctx.beginPath();
  for (let n = Math.ceil(shown.x / step_mm); n * step_mm < shown.x + shown.width; n++) {
    const left = Math.round(view.left + n * step_mm * view.scale) + 0.5;
    ctx.moveTo(left, 0);
    ctx.lineTo(left, view.height_px);
  }
  for (let n = Math.ceil(shown.y / step_mm); n * step_mm < shown.y + shown.height; n++) {
    const top = Math.round(view.top + n * step_mm * view.scale) + 0.5;
    ctx.moveTo(0, top);
    ctx.lineTo(view.width_px, top);
  }
  ctx.stroke();
  ctx.globalAlpha = 1;
}
