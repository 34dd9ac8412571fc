// Undo and redo come back to the page they were pressed on, and have keys of their own:
// Ctrl+Z, and Ctrl+Shift+Z or Ctrl+Y. In a field the keys stay the field's.

/**
 * @param {HTMLElement} element
 */
export function mount(element) {
  if (!(element instanceof HTMLFormElement)) throw new Error('a form was to be mounted');
  const back = element.querySelector('[data-here]');
  if (back instanceof HTMLInputElement) back.value = location.pathname;
  document.addEventListener('keydown', (event) => {
    const target = event.target;
    const typing = target instanceof HTMLElement && target.closest('input, textarea, select');
    if (typing || event.defaultPrevented || !(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    const which = key === 'y' || (key === 'z' && event.shiftKey) ? 'redo' : key === 'z' ? 'undo' : null;
    const button = which && element.querySelector(`[data-history="${which}"]`);
    if (!(button instanceof HTMLButtonElement) || button.disabled) return;
    event.preventDefault();
    button.click();
  });
}
