// Every word that the board itself says, in one place.
/** @import { LaidOver, Tool } from '../types.d.ts' */

/** @type {Readonly<Record<Tool, string>>} */
export const TOOLS = {
  look: 'Look', move: 'Move', take_away: 'Take away', add: 'Add', recolour: 'Recolour', pin: 'Pin',
};

/** What each tool does, in a sentence for those who have just taken it. @type {Readonly<Record<Tool, string>>} */
export const TOOL_HINTS = {
  look: 'Tap a stone to read about it. Drag to move the piece.',
  move: 'Drag a stone, or tap it and then its new place.',
  take_away: 'Tap a stone to take it away.',
  add: 'Pick a kind, then tap where the stone goes.',
  recolour: 'Pick a kind, then tap the stones that become it.',
  pin: 'Tap a stone to keep it where it is when the piece is laid anew.',
};

/** @type {Readonly<Record<keyof LaidOver, string>>} */
export const LAYERS = {
  marks: 'marks of the kinds', sizes: 'sizes, mm', numbers: 'place numbers', order: 'bench order, dark to light',
  rows: 'rows', stretches: 'stretches', zones: 'zones', bare_spots: 'bare spots',
};

export const WORDS = {
  described: 'A picture of the piece that you can work in. Arrow keys move the picture. Enter puts a cursor on '
    + 'the stone nearest to the middle; then arrows go from stone to stone, Enter uses the tool and Escape lets go. '
    + 'Tab leaves the board.',
  name: 'Board',
  role: 'board',
  tools: 'Tool',
  laid_over: 'Lay over',
  zoom_in: 'Closer',
  zoom_out: 'Farther',
  whole: 'Whole piece',
  true_size: 'True size',
  calibrate: 'Measure the screen',
  kind: 'Kind',
  place: 'Place',
  right: 'right, mm',
  down: 'down, mm',
  turn: 'turn, degrees',
  go_number: 'stone number',
  go: 'Go there',
  pick_up: 'Pick up',
  put_down: 'Put down here',
  add_here: 'Add here',
  give_up: 'Give up',
  next_bare_spot: 'Next bare spot',
  no_room: 'No zone has room for one more stone',
  several: 'Several at once',
  choosing: 'Choose by tapping, or by dragging a box',
  whole_row: 'Its whole row',
  kind_in_zone: 'All of its kind in its zone',
  choose_none: 'Let go of all',
  recolour_chosen: 'Recolour',
  take_away_chosen: 'Take away',
  keys: 'Keys',
  single_keys: 'Single letters and signs work as keys',
  tilt: 'Glint as the tablet tilts',
  tilt_on: 'The stones glint as the tablet tilts',
  tilt_off: 'The browser does not tell how the tablet tilts',
  view: 'View',
  true_size_now: 'true size',
  no_webgl: 'This browser cannot show the drawing board (it needs WebGL2). The picture shows the same stones.',
  not_read: 'The drawing board could not be loaded. The picture shows the same stones; load the page again to try once more.',
  taken_back: 'The change was not kept and has been taken back',
  card_title: 'Measure this screen',
  card_text: 'Hold a bank card against the screen and make the frame as large as the card: '
    + '85.60 mm along its long side, 53.98 mm along its short one.',
  card_size: 'Size of the frame',
  smaller: 'A little smaller',
  larger: 'A little larger',
  card_keep: 'It fits: keep',
  card_leave: 'Leave as it was',
};

/** Keys and what they do, for the help. */
export const KEY_HELP = /** @type {const} */ ([
  ['Arrows', 'move the picture; with a cursor, go from stone to stone; with a stone in hand, 0.1 mm, with Shift 1 mm'],
  ['Enter', 'put the cursor on a stone, then use the tool'],
  ['Escape', 'put back, let go'],
  ['Home, End', 'first and last stone of the bench order'],
  ['Delete', 'take away the chosen stones or the one under the cursor'],
  ['+  −  0  1', 'closer, farther, whole piece, true size'],
  ['L M T A R P', 'look, move, take away, add, recolour, pin'],
  ['C  W  K', 'choose the stone, its row, its kind in its zone'],
  ['B', 'next bare spot'],
]);
