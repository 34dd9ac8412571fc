// The tools, the layers, the view's buttons and the help around the board.
/** @import { LaidOver, Tool } from '../types.d.ts' */
/** @import { PieceBoard } from './piece_board.js' */
import { button, checkbox, icon, make, newId } from './dom.js';
import { keepSetting, readSetting } from './settings.js';
import { KEY_HELP, LAYERS, TOOLS, TOOL_HINTS, WORDS } from './words.js';

/** Drawn by us; a stone is a circle of radius 5. @type {Readonly<Record<Tool, string>>} */
const TOOL_ICONS = {
  look: 'M2.5 12C6 6 18 6 21.5 12C18 18 6 18 2.5 12zM9.5 12a2.5 2.5 0 1 0 5 0a2.5 2.5 0 1 0-5 0',
  move: 'M2.5 15a4.5 4.5 0 1 0 9 0a4.5 4.5 0 1 0-9 0M12 9L20 4M15 3.6L20.3 3.8L18 8.6',
  take_away: 'M4 12a8 8 0 1 0 16 0a8 8 0 1 0-16 0M8 12L16 12',
  add: 'M4 12a8 8 0 1 0 16 0a8 8 0 1 0-16 0M8 12L16 12M12 8L12 16',
  recolour: 'M4 14a5.5 5.5 0 1 0 11 0a5.5 5.5 0 1 0-11 0M11 6.2a5.5 5.5 0 1 1 6.8 8',
  pin: 'M8 3.5L16 3.5M9.5 3.5L9 11L6.5 14L17.5 14L15 11L14.5 3.5M12 14L12 21',
};
const ICONS = {
  zoom_in: 'M12 5L12 19M5 12L19 12',
  zoom_out: 'M5 12L19 12',
  whole: 'M4 9L4 4L9 4M15 4L20 4L20 9M20 15L20 20L15 20M9 20L4 20L4 15',
  true_size: 'M3 8L21 8L21 16L3 16zM7 8L7 11M11 8L11 12M15 8L15 11',
};

/** @param {PieceBoard} piece */
export function toolsPanel(piece) {
  const name = newId('tool');
  const radios = /** @type {Tool[]} */ (Object.keys(TOOLS)).map((tool) => {
    const radio = make('input', { type: 'radio', name, value: tool, checked: tool === piece.hand.tool });
    radio.addEventListener('change', () => {
      piece.take(tool);
      piece.say(TOOL_HINTS[tool]);
    });
    return { tool, radio };
  });
  piece.addEventListener('hand', () => {
    for (const { tool, radio } of radios) radio.checked = piece.hand.tool === tool;
  });
  const labels = radios.map(({ tool, radio }) => make('label', { class: 'board-tool' }, radio,
    icon(TOOL_ICONS[tool]), make('span', {}, TOOLS[tool])));
  return make('fieldset', { class: 'board-tools' }, make('legend', { class: 'board-unseen' }, WORDS.tools), ...labels);
}

/**
 * The buttons on the board itself.
 * @param {PieceBoard} piece
 */
export function viewBar(piece) {
  const names = /** @type {const} */ (['zoom_out', 'zoom_in', 'whole', 'true_size']);
  const buttons = names.map((name) => {
    const made = button('', () => piece.command({ name }), { class: 'board-button board-round', title: WORDS[name], 'aria-label': WORDS[name] });
    made.append(icon(ICONS[name]));
    return made;
  });
  return make('div', { class: 'board-bar', role: 'group', 'aria-label': WORDS.view }, ...buttons);
}

/** @param {PieceBoard} piece */
export function layersPanel(piece) {
  const has = /** @type {(name: keyof LaidOver) => boolean} */ ((name) => name !== 'stretches' || piece.data.stretches.length > 0);
  const boxes = /** @type {(keyof LaidOver)[]} */ (Object.keys(LAYERS)).map((name) => {
    const label = checkbox(LAYERS[name], piece.board.laid_over[name], (on) => piece.board.layOver({ [name]: on }));
    return { name, label };
  });
  const show = () => {
    for (const { name, label } of boxes) label.hidden = !has(name);
  };
  show();
  piece.board.addEventListener('stones', show);
  return panel(WORDS.laid_over, true, make('div', { class: 'board-checks' }, ...boxes.map((b) => b.label)));
}

/** @param {PieceBoard} piece */
export function keysPanel(piece) {
  const rows = KEY_HELP.flatMap(([keys, what]) => [make('dt', {}, keys), make('dd', {}, what)]);
  const single = checkbox(WORDS.single_keys, readSetting('single_keys'), (on) => keepSetting('single_keys', on));
  return panel(WORDS.keys, false, single, make('dl', { class: 'board-keys' }, ...rows), ...tiltButton(piece));
}

/**
 * Some tablets give their tilt only when asked by a press.
 * @param {PieceBoard} piece
 */
function tiltButton(piece) {
  const orientation = /** @type {{ requestPermission?: () => Promise<string> } | undefined} */ (
    /** @type {unknown} */ (globalThis.DeviceOrientationEvent));
  if (!orientation?.requestPermission) return [];
  const ask = () => void orientation.requestPermission?.().then(
    (answer) => piece.say(answer === 'granted' ? WORDS.tilt_on : WORDS.tilt_off),
    () => piece.say(WORDS.tilt_off),
  );
  return [button(WORDS.tilt, ask)];
}

/**
 * @param {string} title
 * @param {boolean} open
 * @param {...Node} children
 */
export function panel(title, open, ...children) {
  return make('details', { class: 'board-panel', open }, make('summary', {}, title), ...children);
}
