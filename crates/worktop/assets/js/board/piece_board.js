// The board of the piece page: a board, a hand, and the changes under way. Pointer, keys and
// panels all come here; each finished change leaves as one event.
/** @import { BoardData, HandOp, PagePoint, ScreenPoint, Tool } from '../types.d.ts' */
/** @import { Outcome } from './hand.js' */
/** @import { Command } from './keys.js' */
import { Board } from './board.js';
import { paintCursor } from './cursor.js';
import { Gestures } from './gestures.js';
import { Hand } from './hand.js';
import { commandOf } from './keys.js';
import { kindInZone, nearest, wholeRow } from './near.js';
import { Pending } from './pending.js';
import { pointerOwner } from './pointer.js';
import { sentence } from './say.js';
import { readSetting } from './settings.js';
import { stonesAfter } from './stones.js';
import { WORDS } from './words.js';

/** Zoom of one press, and px of one arrow. Ours, by feel. */
const ZOOM_STEP = 1.4;
const PAN_STEP_PX = 60;
/** A cursor that moves stays so far from the board's edge, px. */
const FOLLOW_PX = 70;

/**
 * The board with hands. Events: `hand` when tool, cursor, carried or chosen stones have changed,
 * `said` when there is something to tell (`detail` is the text).
 */
export class PieceBoard extends EventTarget {
  #pending = new Pending();
  #spot = -1;
  #over = new AbortController();
  /** The rectangle being drawn. @type {{ from: ScreenPoint, to: ScreenPoint } | undefined} */
  frame;
  /** Set by whoever knows the screen: CSS px in a mm. */
  true_scale = () => 1;

  /**
   * @param {HTMLElement} element where the event leaves from
   * @param {HTMLElement} host the board's box
   * @param {BoardData} data
   * @throws {Error} when the board cannot be shown
   */
  constructor(element, host, data) {
    super();
    this.element = element;
    this.data = data;
    this.board = new Board(host);
    const stones = stonesAfter(data, []);
    this.hand = new Hand(data, stones);
    this.board.painters.push((ctx, board) => paintCursor(ctx, board, this));
    this.board.setData(data, stones);
    const { signal } = this.#over;
    const canvas = this.board.stage.top;
    canvas.addEventListener('keydown', (e) => this.#key(e), { signal });
    for (const name of ['focus', 'blur']) canvas.addEventListener(name, () => this.board.wake(), { signal });
    new Gestures(canvas, pointerOwner(this), signal);
  }

  /**
   * Take what the server answered.
   * @param {BoardData} data
   * @param {number} [id] the change it answers; all of them if not given
   */
  setData(data, id) {
    this.data = data;
    this.#pending.drop(id);
    this.#rework();
  }

  /**
   * A change could not be kept: show the piece without it.
   * @param {number} id
   * @param {string} [why] in words for the maker
   */
  takeBack(id, why) {
    this.#pending.drop(id);
    this.#rework();
    this.say(why ? `${WORDS.taken_back}: ${why}` : WORDS.taken_back);
  }

  /** @param {Tool} tool */
  take(tool) {
    const middle = this.board.view.pageOf(this.#middle());
    this.#restoreCarried();
    this.hand.take(tool, middle);
    this.#changed();
  }

  /**
   * Show and send what came of an act of the hand.
   * @param {Outcome} outcome
   */
  perform(outcome) {
    if (outcome.tell) this.say(sentence(outcome.tell, this.data, this.hand.stones));
    if (outcome.ops && outcome.ops.length > 0) this.#send(outcome.ops);
    this.#changed();
  }

  /** @param {Command} command */
  command(command) {
    const { board, hand } = this;
    const stones = hand.stones;
    switch (command.name) {
      case 'arrow': return this.#arrow(command.dx, command.dy, command.big);
      case 'act': return this.#act();
      case 'give_up': return this.giveUp();
      case 'zoom_in': return board.look((view) => view.zoom(ZOOM_STEP));
      case 'zoom_out': return board.look((view) => view.zoom(1 / ZOOM_STEP));
      case 'whole': return board.fit();
      case 'true_size': return board.look((view) => view.zoomTo(this.true_scale()));
      case 'tool': return this.take(command.tool);
      case 'first': return this.#go(0);
      case 'last': return this.#go(stones.n - 1);
      case 'bare_spot': return this.nextBareSpot();
      case 'take_away': {
        const taken = hand.chosen.size > 0 ? hand.chosen : hand.cursor < 0 ? [] : [hand.cursor];
        return this.perform(hand.takeAway(taken));
      }
      case 'choose':
      case 'row':
      case 'kind': {
        if (hand.cursor < 0) return this.perform({ tell: { word: 'no_stone' } });
        const which = { choose: () => [hand.cursor], row: wholeRow, kind: kindInZone }[command.name];
        return this.perform(hand.choose(which(stones, hand.cursor)));
      }
    }
  }

  giveUp() {
    this.#restoreCarried();
    this.perform(this.hand.giveUp());
  }

  /** Go to the next bare spot that a zone has room in with the adding cursor. */
  nextBareSpot() {
    const spots = this.data.zone_spots;
    if (spots.length === 0) return this.say(WORDS.no_room);
    this.#spot = (this.#spot + 1) % spots.length;
    const spot = spots[this.#spot];
    if (!spot) return;
    if (this.hand.tool !== 'add' && !this.hand.carried) this.take('add');
    this.goToPlace(spot);
  }

  /** @param {PagePoint} at */
  goToPlace(at) {
    this.perform(this.hand.goToPlace(at));
    this.showCarried();
    this.board.look((view) => view.follow(at, FOLLOW_PX));
  }

  /** @param {number} place a place number */
  goToStone(place) {
    this.#go(this.hand.stones.place.indexOf(place));
  }

  /** @param {string} text */
  say(text) {
    this.dispatchEvent(new CustomEvent('said', { detail: text }));
  }

  close() {
    this.#over.abort();
    this.board.close();
  }

  /** @param {KeyboardEvent} e */
  #key(e) {
    const command = commandOf(e, readSetting('single_keys'));
    if (!command) return;
    e.preventDefault();
    // A key held down walks and nudges; it does not set one stone after another.
    if (!e.repeat || command.name === 'arrow') this.command(command);
  }

  #act() {
    const { hand } = this;
    if (hand.cursor < 0 && hand.tool !== 'add' && !hand.carried) {
      this.#go(nearest(hand.stones, this.board.view.pageOf(this.#middle())));
    } else {
      this.perform(hand.act());
      this.showCarried();
    }
  }

  /**
   * @param {number} dx
   * @param {number} dy
   * @param {boolean} big
   */
  #arrow(dx, dy, big) {
    const outcome = this.hand.step(dx, dy, big);
    if (!outcome) {
      const step = big ? 4 * PAN_STEP_PX : PAN_STEP_PX;
      return this.board.look((view) => view.pan(-dx * step, -dy * step));
    }
    this.perform(outcome);
    this.showCarried();
    const at = this.hand.carried ?? this.hand.at;
    if (at) this.board.look((view) => view.follow(at, FOLLOW_PX));
  }

  /** @param {number} stone */
  #go(stone) {
    this.perform(this.hand.goTo(stone));
    const { at } = this.hand;
    if (at) this.board.look((view) => view.follow(at, FOLLOW_PX));
  }

  /** @param {HandOp[]} ops */
  #send(ops) {
    const detail = this.#pending.add(ops);
    this.#rework();
    this.element.dispatchEvent(new CustomEvent('stonelay:change-by-hand', { bubbles: true, detail }));
  }

  #rework() {
    const stones = stonesAfter(this.data, this.#pending.ops());
    this.hand.rebind(this.data, stones);
    this.board.setData(this.data, stones);
    this.showCarried();
    this.#changed();
  }

  /** Draw the stone in hand where the hand is. */
  showCarried() {
    const { carried } = this.hand;
    if (carried) this.board.drawStoneAt(carried.stone, carried.x, carried.y);
  }

  #restoreCarried() {
    const { carried, stones } = this.hand;
    if (carried) {
      this.board.drawStoneAt(carried.stone, stones.x[carried.stone] ?? 0, stones.y[carried.stone] ?? 0);
    }
  }

  #middle() {
    return { left: this.board.view.width_px / 2, top: this.board.view.height_px / 2 };
  }

  #changed() {
    this.board.choose(this.hand.chosen);
    this.dispatchEvent(new Event('hand'));
  }
}
