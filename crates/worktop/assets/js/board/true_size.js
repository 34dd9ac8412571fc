// The dialog that measures the screen with a bank card, and the note of how it was measured. The
// bench uses it too.
/** @import { Calibration } from '../types.d.ts' */
import {
  CARD_MM, calibrationFrom, calibrationNote, keepCalibration, readCalibration, trueScale,
} from './calibration.js';
import { button, make, newId } from './dom.js';
import { WORDS } from './words.js';

/** Slider's ends, CSS px: a card on a coarse and on a very fine screen. */
const LEAST_PX = 200;
const MOST_PX = 900;
/** The dialog's own edges, CSS px. */
const ROOM_BESIDE_PX = 90;

/** What this screen's millimetre is; `changed` is called when it is measured anew. */
export class TrueSize {
  /** @type {Calibration | undefined} */
  calibration = readCalibration(localStorageOrNone());

  /** @param {() => void} changed */
  constructor(changed) {
    this.changed = changed;
  }

  /** CSS px in a mm, now. */
  scale() {
    return trueScale(this.calibration, window.devicePixelRatio);
  }

  /** How it was measured, in words. */
  note() {
    return calibrationNote(this.calibration, window.devicePixelRatio);
  }

  /** @param {number} card_px the width that matches a card, CSS px */
  keep(card_px) {
    const day = new Date().toISOString().slice(0, 10);
    this.calibration = calibrationFrom(card_px, window.devicePixelRatio, day);
    keepCalibration(localStorageOrNone(), this.calibration);
    this.changed();
  }
}

/**
 * The dialog; open it with `showModal()`.
 * @param {TrueSize} true_size
 * @returns {HTMLDialogElement}
 */
export function cardDialog(true_size) {
  const card = make('div', { class: 'board-card', 'aria-hidden': 'true' });
  const id = newId('card');
  const slider = make('input', { type: 'range', min: LEAST_PX, max: MOST_PX, step: 0.25, id });
  const figure = make('output', { for: id, class: 'board-figure' });
  const draw = () => {
    const long = Number(slider.value);
    const short = (long * CARD_MM.height) / CARD_MM.width;
    // On a telephone the card is longer than the screen is wide: then it stands upright.
    const upright = long > window.innerWidth - ROOM_BESIDE_PX;
    card.style.width = `${upright ? short : long}px`;
    card.style.height = `${upright ? long : short}px`;
    card.style.borderRadius = `${(long * CARD_MM.corner) / CARD_MM.width}px`;
    figure.textContent = `${(long / CARD_MM.width).toFixed(3)} px in a mm`;
  };
  const nudge = (/** @type {number} */ px) => () => {
    slider.value = String(Number(slider.value) + px);
    draw();
  };
  slider.addEventListener('input', draw);
  const title = make('h2', { id: newId('card-title') }, WORDS.card_title);
  const dialog = make('dialog', { class: 'board-dialog', 'aria-labelledby': title.id }, title,
    make('p', {}, WORDS.card_text), make('div', { class: 'board-card-room' }, card),
    make('label', { for: id }, WORDS.card_size), slider,
    make('div', { class: 'board-buttons' }, button(WORDS.smaller, nudge(-0.25)), button(WORDS.larger, nudge(0.25)), figure),
    make('div', { class: 'board-buttons' },
      button(WORDS.card_keep, () => {
        true_size.keep(Number(slider.value));
        dialog.close();
      }, { class: 'board-button board-main' }),
      button(WORDS.card_leave, () => dialog.close())));
  const start = () => {
    slider.value = String(true_size.scale() * CARD_MM.width);
    draw();
  };
  // Measured from what holds whenever it opens, not from what a slider was left at.
  new MutationObserver(() => dialog.open && start()).observe(dialog, { attributeFilter: ['open'] });
  return dialog;
}

/** Storage, or one that keeps nothing where the browser forbids it. */
function localStorageOrNone() {
  try {
    return window.localStorage;
  } catch {
    return { getItem: () => null, setItem: () => {} };
  }
}
