// Keeps the screen on while stones are set, where the browser can.

/** @param {HTMLElement} element */
export function keepAwake(element) {
  const note = element.querySelector('.bench-awake');
  if (!(note instanceof HTMLElement)) return;
  const ask = async () => {
    if (document.visibilityState !== 'visible') return;
    try {
      await navigator.wakeLock.request('screen');
      note.textContent = 'The screen stays on.';
    } catch {
      note.textContent = 'This browser lets the screen go dark: set it to stay on in the settings of the device.';
    }
  };
  // It is given back whenever the page is out of sight.
  document.addEventListener('visibilitychange', ask);
  ask();
}
