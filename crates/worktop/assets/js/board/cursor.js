// What is painted over all else: the cursor, the place of a new stone, the rectangle, the scale bar.
/** @import { Board } from './board.js' */
/** @import { PieceBoard } from './piece_board.js' */
import { barLength_mm } from './view.js';

/**
 * @param {CanvasRenderingContext2D} ctx CSS px
 * @param {Board} board
 * @param {PieceBoard} piece
 */
export function paintCursor(ctx, board, piece) {
  const { hand, frame } = piece;
  const { inks, view } = board;
  if (frame) {
    const [a, b] = [frame.from, frame.to];
    ctx.beginPath();
    ctx.rect(a.left, a.top, b.left - a.left, b.top - a.top);
    ctx.globalAlpha = 0.14;
    ctx.fillStyle = inks.accent;
    ctx.fill();
    ctx.globalAlpha = 1;
    line(ctx, inks.surface, 3);
    ctx.setLineDash([6, 4]);
    line(ctx, inks.accent, 1.5);
    ctx.setLineDash([]);
  }
  const at = hand.carried ?? hand.at;
  if (at) {
    const overlaps = hand.overlap() >= 0;
    const kind = hand.carried || hand.tool !== 'add' ? -1 : hand.kind;
    const radius_mm = kind >= 0 ? (piece.data.kinds[kind]?.drawn_mm ?? 0) / 2
      : hand.stones.radius[hand.carried?.stone ?? hand.cursor] ?? 0;
    const { left, top } = view.screenOf(at);
    const r = Math.max(5, radius_mm * view.scale + 3);
    ctx.beginPath();
    ctx.arc(left, top, r, 0, 2 * Math.PI);
    line(ctx, inks.surface, 6);
    line(ctx, overlaps ? inks.bad : inks.focus, 3);
    if (kind >= 0 || hand.carried) cross(ctx, left, top, r, overlaps ? inks.bad : inks.focus, inks.surface);
  }
  paintScaleBar(ctx, board);
}

/** @param {CanvasRenderingContext2D} ctx @param {Board} board */
function paintScaleBar(ctx, { view, inks }) {
  const mm = barLength_mm(view.scale, Math.min(140, view.width_px / 3));
  const [left, bottom, length] = [16, view.height_px - 18, mm * view.scale];
  ctx.beginPath();
  ctx.moveTo(left, bottom - 5);
  ctx.lineTo(left, bottom);
  ctx.lineTo(left + length, bottom);
  ctx.lineTo(left + length, bottom - 5);
  line(ctx, inks.surface, 5);
  line(ctx, inks.ink, 1.75);
  ctx.font = '600 12px system-ui, sans-serif';
  ctx.textAlign = 'left';
  ctx.textBaseline = 'alphabetic';
  ctx.lineJoin = 'round';
  ctx.lineWidth = 4;
  ctx.strokeStyle = inks.surface;
  ctx.strokeText(`${mm} mm`, left + 6, bottom - 6);
  ctx.fillStyle = inks.ink;
  ctx.fillText(`${mm} mm`, left + 6, bottom - 6);
}

/**
 * @param {CanvasRenderingContext2D} ctx
 * @param {number} left
 * @param {number} top
 * @param {number} r
 * @param {string} ink
 * @param {string} under
 */
function cross(ctx, left, top, r, ink, under) {
  ctx.beginPath();
  for (const [dx, dy] of /** @type {const} */ ([[1, 0], [-1, 0], [0, 1], [0, -1]])) {
    ctx.moveTo(left + dx * (r - 4), top + dy * (r - 4));
    ctx.lineTo(left + dx * (r + 9), top + dy * (r + 9));
  }
  line(ctx, under, 5);
  line(ctx, ink, 2.5);
}

/** @param {CanvasRenderingContext2D} ctx @param {string} ink @param {number} width */
function line(ctx, ink, width) {
  ctx.strokeStyle = ink;
  ctx.lineWidth = width;
  ctx.stroke();
}
