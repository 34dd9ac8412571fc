// The kind in hand, the place in numbers, and several stones at once: the no-drag ways of working.
/** @import { PieceBoard } from './piece_board.js' */
import { button, checkbox, make, newId } from './dom.js';
import { panel } from './panels.js';
import { WORDS } from './words.js';

/** @param {PieceBoard} piece */
export function kindPanel(piece) {
  const list = make('div', { class: 'board-kinds' });
  const name = newId('kind');
  let shown = '';
  const build = () => {
    const now = JSON.stringify(piece.data.kinds);
    if (now === shown) return;
    shown = now;
    list.replaceChildren(...piece.data.kinds.map((kind, k) => {
      const radio = make('input', { type: 'radio', name, value: k, checked: k === piece.hand.kind });
      radio.addEventListener('change', () => {
        piece.hand.kind = k;
        piece.board.wake();
        piece.dispatchEvent(new Event('hand'));
      });
      const swatch = make('span', { class: `board-swatch board-swatch-${kind.finish}`, 'aria-hidden': 'true' }, kind.mark);
      swatch.style.setProperty('--stone', kind.colour);
      swatch.style.setProperty('--sign', isLight(kind.colour) ? '#111' : '#fff');
      const size = `${Number(kind.drawn_mm.toFixed(2))} mm`;
      return make('label', { class: 'board-kind' }, radio, swatch,
        make('span', { class: 'board-kind-name' }, kind.name), make('span', { class: 'board-kind-size' }, size));
    }));
  };
  build();
  piece.addEventListener('hand', build);
  return panel(WORDS.kind, true, list);
}

/** @param {PieceBoard} piece */
export function placePanel(piece) {
  const number = field(WORDS.go_number, { min: 1, step: 1, inputmode: 'numeric' });
  const go = make('form', { class: 'board-form' }, number.label, make('button', { class: 'board-button' }, WORDS.go));
  go.addEventListener('submit', (e) => {
    e.preventDefault();
    piece.goToStone(Number(number.input.value));
  });
  const right = field(WORDS.right, { step: 'any', inputmode: 'decimal', required: true });
  const down = field(WORDS.down, { step: 'any', inputmode: 'decimal', required: true });
  const turn = field(WORDS.turn, { step: 'any', inputmode: 'decimal' });
  const act = make('button', { class: 'board-button board-main' }, WORDS.put_down);
  const pick = button(WORDS.pick_up, () => piece.command({ name: 'act' }));
  const leave = button(WORDS.give_up, () => piece.giveUp());
  const spot = button(WORDS.next_bare_spot, () => piece.nextBareSpot());
  const form = make('form', { class: 'board-form' }, right.label, down.label, turn.label, act, pick, leave, spot);
  form.addEventListener('submit', (e) => {
    e.preventDefault();
    const at = { x: Number(right.input.value), y: Number(down.input.value) };
    if (piece.hand.carried) {
      const turned = turn.input.value === '' ? undefined : Number(turn.input.value);
      return piece.perform(piece.hand.putDown(at, turned));
    }
    piece.goToPlace(at);
    piece.perform(piece.hand.act());
  });
  const show = () => {
    const { hand } = piece;
    const at = hand.carried ?? hand.at;
    form.hidden = hand.tool !== 'add' && hand.tool !== 'move';
    turn.label.hidden = !hand.carried;
    act.hidden = !hand.carried && hand.tool !== 'add';
    act.textContent = hand.carried ? WORDS.put_down : WORDS.add_here;
    pick.hidden = hand.carried !== undefined || hand.tool !== 'move' || hand.cursor < 0;
    leave.hidden = hand.carried === undefined;
    spot.hidden = piece.data.zone_spots.length === 0 || hand.tool !== 'add';
    number.input.max = String(piece.data.stones.x.length);
    if (hand.cursor >= 0) write(number.input, hand.stones.place[hand.cursor] ?? 0);
    if (!at) return;
    write(right.input, at.x);
    write(down.input, at.y);
    if (hand.carried) write(turn.input, hand.stones.turn_deg[hand.carried.stone] ?? 0);
  };
  show();
  piece.addEventListener('hand', show);
  return panel(WORDS.place, true, go, form);
}

/** @param {PieceBoard} piece */
export function severalPanel(piece) {
  const { hand } = piece;
  const choosing = checkbox(WORDS.choosing, false, (on) => {
    hand.choosing = on;
    if (on) piece.take('look');
  });
  const row = button(WORDS.whole_row, () => piece.command({ name: 'row' }));
  const kind = button(WORDS.kind_in_zone, () => piece.command({ name: 'kind' }));
  const recolour = button('', () => piece.perform(hand.recolour(hand.chosen)), { class: 'board-button board-main' });
  const take = button('', () => piece.perform(hand.takeAway(hand.chosen)));
  const none = button(WORDS.choose_none, () => piece.perform(hand.letGo()));
  const show = () => {
    const n = hand.chosen.size;
    row.disabled = kind.disabled = hand.cursor < 0;
    for (const b of [recolour, take, none]) b.hidden = n === 0;
    recolour.textContent = `${WORDS.recolour_chosen} ${n}: ${piece.data.kinds[hand.kind]?.name ?? ''}`;
    take.textContent = `${WORDS.take_away_chosen} ${n}`;
  };
  show();
  piece.addEventListener('hand', show);
  return panel(WORDS.several, false, choosing,
    make('div', { class: 'board-buttons' }, row, kind, recolour, take, none));
}

/**
 * @param {string} text
 * @param {Record<string, string | number | boolean>} attributes
 */
function field(text, attributes) {
  const input = make('input', { type: 'number', autocomplete: 'off', ...attributes });
  return { input, label: make('label', { class: 'board-field' }, make('span', {}, text), input) };
}

/**
 * Nothing that is being typed is overwritten.
 * @param {HTMLInputElement} input
 * @param {number} value
 */
function write(input, value) {
  if (document.activeElement !== input) input.value = String(Number(value.toFixed(3)));
}

/** @param {string} colour `#rrggbb` */
function isLight(colour) {
  const n = Number.parseInt(colour.slice(1, 7), 16);
  return 0.3 * (n >> 16) + 0.59 * ((n >> 8) & 255) + 0.11 * (n & 255) > 115;
}
