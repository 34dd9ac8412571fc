// A file may be dropped anywhere on the form, not only on the small field.

/**
 * @param {HTMLElement} element
 */
export function mount(element) {
  const form = element.closest('form');
  if (!(element instanceof HTMLInputElement) || !form) return;
  form.addEventListener('dragover', (event) => {
    if (!event.dataTransfer?.types.includes('Files')) return;
    event.preventDefault();
    form.classList.add('dropping');
  });
  form.addEventListener('dragleave', () => form.classList.remove('dropping'));
  form.addEventListener('drop', (event) => {
    form.classList.remove('dropping');
    if (!event.dataTransfer?.files.length) return;
    event.preventDefault();
    element.files = event.dataTransfer.files;
    element.focus();
  });
}
