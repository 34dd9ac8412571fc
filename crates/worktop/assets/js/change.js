// Sends a form as soon as a field of it was changed, and shows beside the field what is wrong.
// A form's field names are paths of the document; the server finds out what differs.
/** @import { Changed, Problem } from './types.d.ts' */
import { say } from './say.js';

/** One after the other, whatever form they come from: each from the revision that the one before gave. */
let queue = Promise.resolve();
/** How many changes are on their way. */
let waiting = 0;
/** The last one that was kept and not told yet. @type {Changed | undefined} */
let kept;

/** Whether a change of this page is on its way. */
export const isChanging = () => waiting > 0;

/**
 * @param {HTMLElement} element
 */
export function mount(element) {
  if (!(element instanceof HTMLFormElement)) throw new Error('a form was to be mounted');
  const send = (/** @type {HTMLElement | null} */ button) => {
    // What stands in it now, whatever is typed before its turn comes.
    const data = typedIn(element, button);
    waiting += 1;
    queue = queue.then(() => sendNow(element, data))
      .catch(() => say('The worktop does not answer. What you typed is still here; try once more.', 'wrong'))
      .then(tell);
  };
  element.addEventListener('change', () => send(null));
  element.addEventListener('submit', (event) => {
    event.preventDefault();
    send(event.submitter instanceof HTMLElement ? event.submitter : null);
  });
}

/** Once no change is on its way any more, the page hears of those that were kept. */
function tell() {
  waiting -= 1;
  if (waiting > 0 || !kept) return;
  const detail = kept;
  kept = undefined;
  document.dispatchEvent(new CustomEvent('stonelay:changed', { detail }));
}

/**
 * @param {HTMLFormElement} form
 * @param {HTMLElement | null} button
 */
function typedIn(form, button) {
  const data = new URLSearchParams();
  for (const [name, value] of new FormData(form, button ?? undefined)) {
    if (typeof value === 'string') data.append(name, value);
  }
  return data;
}

/**
 * @param {HTMLFormElement} form
 * @param {URLSearchParams} data
 */
async function sendNow(form, data) {
  const from = document.querySelector('input[name="from"]');
  if (from instanceof HTMLInputElement && data.has('from')) data.set('from', from.value);
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
    for (const field of form.elements) {
      const text = field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement;
      if (text && data.get(field.name) === field.value) field.defaultValue = field.value;
    }
    kept = changed;
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
