// How many pixels a millimetre has on this screen, measured with a bank card and kept on this device.
/** @import { Calibration } from '../types.d.ts' */

/** ISO/IEC 7810 ID-1, mm. */
export const CARD_MM = { width: 85.6, height: 53.98, corner: 3.18 };

/** CSS's own inch of 96 px: what an unmeasured screen is taken for. */
export const UNMEASURED_PX_PER_MM = 96 / 25.4;

const KEY = 'stonelay.true-size';
/** Screens have 40 to 700 px in an inch, with room to both sides. */
const LEAST = 1;
const MOST = 40;

/**
 * @param {Pick<Storage, 'getItem'>} storage
 * @returns {Calibration | undefined} undefined if never measured or not readable
 */
export function readCalibration(storage) {
  try {
    const kept = JSON.parse(storage.getItem(KEY) ?? 'null');
    const { device_px_per_mm, pixel_ratio, day } = kept ?? {};
    const sound = typeof device_px_per_mm === 'number' && device_px_per_mm >= LEAST && device_px_per_mm <= MOST
      && typeof pixel_ratio === 'number' && pixel_ratio > 0 && typeof day === 'string';
    return sound ? { device_px_per_mm, pixel_ratio, day } : undefined;
  } catch {
    // Storage may be forbidden, or hold what another hand wrote: then the screen is unmeasured.
    return undefined;
  }
}

/**
 * @param {Pick<Storage, 'setItem'>} storage
 * @param {Calibration} calibration
 * @returns {boolean} whether it could be kept
 */
export function keepCalibration(storage, calibration) {
  try {
    storage.setItem(KEY, JSON.stringify(calibration));
    return true;
  } catch {
    return false;
  }
}

/**
 * CSS px in a mm at the ratio of now. Zooming the browser changes the ratio and not the screen, so
 * the measure holds through it.
 * @param {Calibration | undefined} calibration
 * @param {number} pixel_ratio
 */
export function trueScale(calibration, pixel_ratio) {
  return calibration ? calibration.device_px_per_mm / pixel_ratio : UNMEASURED_PX_PER_MM;
}

/**
 * @param {number} card_px the card's width on the screen, CSS px
 * @param {number} pixel_ratio
 * @param {string} day ISO 8601
 * @returns {Calibration}
 */
export function calibrationFrom(card_px, pixel_ratio, day) {
  return { device_px_per_mm: (card_px * pixel_ratio) / CARD_MM.width, pixel_ratio, day };
}

/**
 * How the true size came about, for a note beside it.
 * @param {Calibration | undefined} calibration
 * @param {number} pixel_ratio
 */
export function calibrationNote(calibration, pixel_ratio) {
  if (!calibration) return 'screen not measured yet: true size is a guess';
  const measured = `measured with a bank card on ${calibration.day}`;
  const same = Math.abs(calibration.pixel_ratio / pixel_ratio - 1) < 0.01;
  return same ? measured : `${measured} at another zoom; measure again if this is another screen`;
}
