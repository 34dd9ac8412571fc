// What is wrong comes first: a summary of faults takes the focus when the page opens with it.

/**
 * @param {HTMLElement} element
 */
export function mount(element) {
  element.focus();
}
