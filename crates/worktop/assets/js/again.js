// Work is going on: looks again by itself, but never while somebody types, since what is typed would
// be lost. The link to look again stays.

/** Between two looks, ms. */
const WAIT = 700;

/**
 * @param {HTMLElement} _element
 */
export function mount(_element) {
  const look = () => {
    if (isTyped()) setTimeout(look, WAIT);
    else location.reload();
  };
  setTimeout(look, WAIT);
}

/** Whether a field of the page has the focus, or says something else than it came with. */
function isTyped() {
  const fields = [...document.querySelectorAll('main input, main select, main textarea')];
  return fields.some((field) => field === document.activeElement || differs(field));
}

/** Whether a field says something else than it came with. @param {Element} field */
export function differs(field) {
  if (field instanceof HTMLSelectElement) {
    const usual = [...field.options].filter((o) => o.defaultSelected);
    return usual.length > 0 && [...field.options].some((o) => o.selected !== o.defaultSelected);
  }
  if (field instanceof HTMLTextAreaElement) return field.value !== field.defaultValue;
  if (!(field instanceof HTMLInputElement) || field.type === 'hidden') return false;
  if (field.type === 'checkbox' || field.type === 'radio') return field.checked !== field.defaultChecked;
  return field.value !== field.defaultValue;
}
