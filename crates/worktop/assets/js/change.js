// Sends a form as soon as a field of it was changed, and shows beside the field what is wrong.
// A form's field names are paths of the document; the server finds out what differs.
/** @import { Changed, Problem } from './types.d.ts' */
import { say } from './say.js';

/**
 * @param {HTMLElement} element
 */
export function mount(element) {
  if (!(element instanceof HTMLFormElement)) throw new Error('a form was to be mounted');
  let pending = Promise.resolve();
  const send = (/** @type {HTMLElement | null} */ button) => {
    // One after the other: each change is made from the revision that the one before gave.
    pending = pending.then(() => sendNow(element, button)).catch(() => say('The worktop does not answer. What you typed is still here; try once more.', 'wrong'));
  };
  element.addEventListener('change', () => send(null));
  element.addEventListener('submit', (event) => {
    event.preventDefault();
    send(event.submitter instanceof HTMLElement ? event.submitter : null);
  });
}

/**
 * @param {HTMLFormElement} form
 * @param {HTMLElement | null} button
 */
async function sendNow(form, button) {
  const data = new URLSearchParams();
  for (const [name, value] of new FormData(form, button ?? undefined)) {
    if (typeof value === 'string') data.append(name, value);
  }
  const answer = await fetch(form.action, {
    method: 'POST',
    headers: { accept: 'application/json' },
    body: data,
  });
  if (answer.ok) {
    /** @type {Changed} */
    const changed = await answer.json();
    clearFaults(form);
    stand(changed);
    document.dispatchEvent(new CustomEvent('stonelay:changed', { detail: changed }));
    return;
  }
  /** @type {Problem} */
  const problem = await answer.json();
  if (problem.type === '/problems/changed-meanwhile') {
    say('The order was changed on another device meanwhile. Reload the page to see what it is now.', 'wrong');
    return;
  }
  showFaults(form, problem);
}

/**
 * Every form and history button of the page stands on the new revision.
 * @param {Changed} changed
 */
export function stand(changed) {
  for (const from of document.querySelectorAll('input[name="from"]')) {
    if (from instanceof HTMLInputElement) from.value = String(changed.revision);
  }
  for (const [which, what] of /** @type {const} */ ([['undo', changed.undo], ['redo', changed.redo]])) {
    for (const button of document.querySelectorAll(`[data-history="${which}"]`)) {
      if (!(button instanceof HTMLButtonElement)) continue;
      button.disabled = what === null;
      if (what !== null) button.title = what;
    }
  }
}

/** @param {HTMLFormElement} form */
function clearFaults(form) {
  for (const field of form.querySelectorAll('[aria-invalid]')) field.removeAttribute('aria-invalid');
  for (const wrong of form.querySelectorAll('.wrong')) wrong.remove();
  document.querySelector('.said .wrong-said')?.remove();
}

/**
 * @param {HTMLFormElement} form
 * @param {Problem} problem
 */
function showFaults(form, problem) {
  clearFaults(form);
  const faults = problem.faults?.length ? problem.faults
    : [{ path: undefined, place: '', text: problem.title, hint: problem.detail }];
  let first = true;
  for (const fault of faults) {
    const field = fault.path === undefined ? null : form.elements.namedItem(fault.path);
    const text = `${fault.text}${fault.hint ? ` – ${fault.hint}` : ''}`;
    if (field instanceof HTMLElement) {
      field.setAttribute('aria-invalid', 'true');
      const help = document.getElementById(field.getAttribute('aria-describedby') ?? '');
      const wrong = document.createElement('span');
      wrong.className = 'wrong';
      wrong.textContent = `${text} `;
      help?.prepend(wrong);
    }
    if (first) say(`Not taken: ${fault.place ? `${fault.place}: ` : ''}${text}`, 'wrong');
    first = false;
  }
}
