// The signs written on stones, drawn once into a texture: ten digits, then a mark and a size for
// each kind. Red holds the sign, green its edge.
/** @import { BoardKind } from '../types.d.ts' */

const CELL_PX = 64;
const COLUMNS = 16;

/** @param {number} kind an index @returns {number} the cell of its mark */
export const markCell = (kind) => 10 + 2 * kind;
/** @param {number} kind an index @returns {number} the cell of its size */
export const sizeCell = (kind) => 11 + 2 * kind;

/**
 * @param {readonly BoardKind[]} kinds
 * @returns {{ picture: HTMLCanvasElement, columns: number, rows: number, cell_px: number }}
 */
export function drawLetters(kinds) {
  const rows = Math.ceil((10 + 2 * kinds.length) / COLUMNS);
  const picture = document.createElement('canvas');
  picture.width = COLUMNS * CELL_PX;
  picture.height = rows * CELL_PX;
  const ctx = picture.getContext('2d');
  if (ctx) {
    ctx.fillStyle = '#000';
    ctx.fillRect(0, 0, picture.width, picture.height);
    ctx.textAlign = 'center';
    ctx.textBaseline = 'alphabetic';
    ctx.lineJoin = 'round';
    for (let d = 0; d < 10; d++) drawSign(ctx, d, String(d), 54);
    kinds.forEach((kind, k) => {
      drawSign(ctx, markCell(k), kind.mark, 50);
      drawSign(ctx, sizeCell(k), String(Number(kind.drawn_mm.toFixed(2))), 34);
    });
  }
  return { picture, columns: COLUMNS, rows, cell_px: CELL_PX };
}

/**
 * @param {CanvasRenderingContext2D} ctx
 * @param {number} cell
 * @param {string} text
 * @param {number} size_px
 */
function drawSign(ctx, cell, text, size_px) {
  const x = ((cell % COLUMNS) + 0.5) * CELL_PX;
  const middle = (Math.floor(cell / COLUMNS) + 0.5) * CELL_PX;
  ctx.font = `600 ${size_px}px system-ui, sans-serif`;
  // By its own ink, not by the font's line: signs such as a ring or a triangle sit elsewhere in it.
  const { actualBoundingBoxAscent: above, actualBoundingBoxDescent: under } = ctx.measureText(text);
  const y = middle + (above - under) / 2;
  ctx.globalCompositeOperation = 'lighter';
  ctx.lineWidth = 8;
  ctx.strokeStyle = '#0f0';
  ctx.strokeText(text, x, y, CELL_PX - 10);
  ctx.fillStyle = '#f00';
  ctx.fillText(text, x, y, CELL_PX - 10);
  ctx.globalCompositeOperation = 'source-over';
}
