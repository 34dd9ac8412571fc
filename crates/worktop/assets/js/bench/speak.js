// Speaks each step, if that was switched on at this device.
import { remember, remembered } from './device.js';

/**
 * @param {HTMLElement} element
 * @param {(text: string) => void} say
 * @returns {(text: string) => void} speaks a step
 */
export function speaker(element, say) {
  const box = element.querySelector('#bench-speak');
  if (!(box instanceof HTMLInputElement)) return say;
  if (!('speechSynthesis' in window)) {
    box.disabled = true;
    return say;
  }
  box.checked = remembered('speak') === 'on';
  const speak = (/** @type {string} */ text) => {
    say(text);
    if (!box.checked || !text) return;
    speechSynthesis.cancel();
    speechSynthesis.speak(new SpeechSynthesisUtterance(text));
  };
  box.addEventListener('change', () => {
    remember('speak', box.checked ? 'on' : 'off');
    const now = element.querySelector('#now');
    if (now instanceof HTMLElement) speak(now.dataset.speak ?? '');
  });
  return speak;
}
