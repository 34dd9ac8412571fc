// The board: a piece with its stones, drawn in a box of the page. Shows and tells; changes by hand
// are worked in by `piece_board.js`, the bench uses it as it stands.
/** @import { BoardData, LaidOver, PageBox, PlaceRange, ScreenPoint, Stones } from '../types.d.ts' */
import { Marks } from './flags.js';
import { Glint } from './glint.js';
import { numbersFor, readInks, watchTheme } from './inks.js';
import { Lines, NOTHING_LAID_OVER } from './laid_over.js';
import { paintMat } from './mat.js';
import { boxAround, stoneAt } from './near.js';
import { context2d, Stage } from './stage.js';
import { StonePainter } from './stone_painter.js';
import { stonesOf } from './stones.js';
import { View } from './view.js';

/** How far beside a stone a finger still hits it, CSS px. */
const SLOP_PX = 8;

/**
 * One board. Events: `view` when the view has changed, `stones` when the stones have.
 * @typedef {(ctx: CanvasRenderingContext2D, board: Board) => void} Painter
 */
export class Board extends EventTarget {
  view = new View();
  /** @type {LaidOver} */
  laid_over = { ...NOTHING_LAID_OVER };
  /** Painted last, in CSS px: cursor, rectangle. @type {Painter[]} */
  painters = [];
  /** @type {BoardData | undefined} */
  data;
  /** @type {Stones | undefined} */
  stones;
  #marks = new Marks();
  /** @type {string | undefined} */
  #kinds_sent;
  #over = new AbortController();
  #frame = 0;
  /** @type {Lines | undefined} */
  #lines;
  /** @type {StonePainter | undefined} */
  #painter;

  /** Whether this browser can show a board. */
  static possible() {
    return document.createElement('canvas').getContext('webgl2') !== null;
  }

  /**
   * @param {HTMLElement} host an empty, positioned box that has a size
   * @throws {Error} when WebGL2 is missing or its shaders do not compile
   */
  constructor(host) {
    super();
    this.host = host;
    const { signal } = this.#over;
    this.stage = new Stage(host, () => this.#resized(), signal);
    this.below = context2d(this.stage.below);
    this.top = context2d(this.stage.top);
    this.#startPainter();
    this.glint = new Glint(() => this.wake(), signal);
    this.inks = readInks(host);
    this.numbers = numbersFor(this.inks);
    watchTheme(() => this.#readInks(), signal);
    const { between } = this.stage;
    between.addEventListener('webglcontextlost', (e) => this.#lost(e), { signal });
    between.addEventListener('webglcontextrestored', () => this.#startPainter(), { signal });
    this.view.resize(this.stage.size.width_px, this.stage.size.height_px);
  }

  /**
   * Show this piece. The view stays if it is the same piece.
   * @param {BoardData} data
   * @param {Stones} [stones] with changes worked in; the data's own if not given
   */
  setData(data, stones = stonesOf(data)) {
    const other = !this.data || this.data.piece !== data.piece
      || this.data.width_mm !== data.width_mm || this.data.height_mm !== data.height_mm;
    this.data = data;
    this.stones = stones;
    this.#lines = new Lines(data, stones);
    this.#marks.setData(data);
    this.view.piece = { x: 0, y: 0, width: data.width_mm, height: data.height_mm };
    if (other) this.view.fit();
    this.#sendKinds();
    this.#painter?.setStones(stones);
    this.#sendFlags();
    this.dispatchEvent(new Event('stones'));
    this.#viewed();
  }

  /**
   * Show these place numbers in full and the others faintly; all in full if nothing is given.
   * @param {PlaceRange | ReadonlySet<number>} [range]
   */
  show(range) {
    this.#marks.range = range;
    this.#sendFlags();
  }

  /**
   * Ring these stones.
   * @param {Iterable<number>} places place numbers
   */
  highlight(places) {
    this.#marks.marked = new Set(places);
    this.#sendFlags();
  }

  /**
   * Ring these stones as chosen. The same set again changes nothing.
   * @param {ReadonlySet<number>} indices
   */
  choose(indices) {
    if (indices === this.#marks.chosen) return;
    this.#marks.chosen = indices;
    this.#sendFlags();
  }

  /**
   * Show a box of the piece, or a range of place numbers, or the whole piece.
   * @param {PageBox | PlaceRange} [what]
   */
  fit(what) {
    if (what && 'first' in what) {
      const places = Array.from({ length: Math.max(0, what.last - what.first + 1) }, (_, k) => what.first + k - 1);
      const inside = places.filter((i) => i >= 0 && i < (this.stones?.n ?? 0));
      this.view.fit(this.stones && boxAround(this.stones, inside));
    } else this.view.fit(what);
    this.#viewed();
  }

  /**
   * Change the view: `board.look((view) => view.zoom(2))`.
   * @param {(view: View) => void} change
   */
  look(change) {
    change(this.view);
    this.#viewed();
  }

  /** @param {Partial<LaidOver>} on what to lay over or take off */
  layOver(on) {
    Object.assign(this.laid_over, on);
    this.wake();
  }

  /**
   * The stone under a place of the screen, an index, or -1.
   * @param {ScreenPoint} at
   * @param {boolean} [coarse] whether a finger points
   */
  stoneAt(at, coarse = false) {
    if (!this.stones) return -1;
    return stoneAt(this.stones, this.view.pageOf(at), coarse ? SLOP_PX / this.view.scale : 0);
  }

  /**
   * Draw one stone elsewhere, as long as it is carried.
   * @param {number} stone
   * @param {number} x mm
   * @param {number} y mm
   */
  drawStoneAt(stone, x, y) {
    this.#painter?.moveStone(stone, x, y);
    this.wake();
  }

  /** Draw at the next frame. */
  wake() {
    if (this.#frame === 0 && !this.#over.signal.aborted) {
      this.#frame = requestAnimationFrame(() => this.#paint());
    }
  }

  /** Give up the board and all that it listens to. */
  close() {
    this.#over.abort();
    cancelAnimationFrame(this.#frame);
  }

  #paint() {
    this.#frame = 0;
    const { data, view } = this;
    if (!data || !this.#lines) return;
    const { ratio, width_px, height_px } = this.stage.size;
    const moving = this.glint.step();
    paintMat(this.below, view, ratio, this.inks, data, this.#lines.blank);
    this.#painter?.draw({
      scale: view.scale * ratio, ratio, left: view.left * ratio, top: view.top * ratio,
      light: {
        x: this.glint.x * width_px * ratio, y: this.glint.y * height_px * ratio,
        height: 0.55 * Math.min(width_px, height_px) * ratio,
      },
      laid_over: this.laid_over, inks: this.numbers,
    });
    this.top.setTransform(ratio, 0, 0, ratio, 0, 0);
    this.top.clearRect(0, 0, width_px, height_px);
    this.#lines.paint(this.top, view, ratio, this.inks, this.laid_over);
    for (const paint of this.painters) paint(this.top, this);
    if (moving) this.wake();
  }

  /** The signs take a while to draw, so only when they have changed. */
  #sendKinds() {
    const kinds = JSON.stringify(this.data?.kinds);
    if (this.data && kinds !== this.#kinds_sent) this.#painter?.setKinds(this.data.kinds);
    this.#kinds_sent = kinds;
  }

  #sendFlags() {
    const { stones } = this;
    if (!stones) return;
    this.#painter?.setFlags(this.#marks.flags(stones));
    this.wake();
  }

  #startPainter() {
    const gl = this.stage.between.getContext('webgl2', { antialias: false });
    if (!gl) throw new Error('WebGL2 is missing');
    this.#painter = new StonePainter(gl);
    if (!this.data || !this.stones) return;
    this.#kinds_sent = undefined;
    this.#sendKinds();
    this.#painter.setStones(this.stones);
    this.#sendFlags();
  }

  /** @param {Event} e */
  #lost(e) {
    // Without this the browser would not give the context back.
    e.preventDefault();
    this.#painter = undefined;
  }

  #resized() {
    this.view.resize(this.stage.size.width_px, this.stage.size.height_px);
    this.#viewed();
  }

  #readInks() {
    this.inks = readInks(this.host);
    this.numbers = numbersFor(this.inks);
    this.wake();
  }

  #viewed() {
    this.dispatchEvent(new Event('view'));
    this.wake();
  }
}
