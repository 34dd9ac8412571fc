// The bench: presses go to the server one at a time and are sent until it says that they are written.
// Without script each press is a form that loads the page anew; nothing here is needed for that.
import { Clock } from './clock.js';
import { keepAwake } from './awake.js';
import { watchKeys } from './keys.js';
import { speaker } from './speak.js';
import { showBoard } from './board.js';
import { deviceName } from './device.js';

/** Waits between tries, ms; the last one holds on. */
const WAITS_MS = [400, 800, 1500, 3000, 5000];
/** A press that takes longer than this is said to be under way, ms. */
const SLOW_MS = 400;

/** @param {HTMLElement} element */
export function mount(element) {
  const device = element.querySelector('.bench-device');
  const link = element.querySelector('.bench-link');
  if (!(device instanceof HTMLElement) || !(link instanceof HTMLElement)) {
    throw new Error('the bench needs its part for this device');
  }
  device.hidden = false;
  const say = (/** @type {string} */ text) => {
    if (link.textContent !== text) link.textContent = text;
  };
  const clock = new Clock(say, () => refresh());
  const speak = speaker(element, say);
  let busy = false;

  const show = (/** @type {string} */ html) => {
    const now = element.querySelector('#now');
    const fresh = new DOMParser().parseFromString(html, 'text/html').querySelector('#now');
    if (!(now instanceof HTMLElement) || !(fresh instanceof HTMLElement)) return;
    const focused = document.activeElement?.getAttribute('data-act') ?? 'done';
    const within = now.contains(document.activeElement);
    const open = [...now.querySelectorAll('details[open] > summary')].map((s) => s.textContent);
    const other = now.dataset.step !== fresh.dataset.step;
    now.replaceWith(fresh);
    for (const summary of fresh.querySelectorAll('details > summary')) {
      if (!other && open.includes(summary.textContent)) summary.parentElement?.setAttribute('open', '');
    }
    if (within) {
      const again = fresh.querySelector(`[data-act="${focused}"]:not(:disabled)`) ?? fresh.querySelector('[data-act="done"]');
      if (again instanceof HTMLElement) again.focus({ preventScroll: true });
    }
    clock.watch(fresh);
    showBoard(fresh);
    if (other) speak(fresh.dataset.speak ?? '');
  };

  const refresh = async () => {
    const url = element.dataset.now;
    if (busy || !url) return;
    try {
      const answer = await fetch(url);
      if (answer.ok && !busy) show(await answer.text());
    } catch {
      // The next event or press finds out.
    }
  };

  element.addEventListener('submit', async (event) => {
    const form = event.target;
    if (!(form instanceof HTMLFormElement) || !form.action.endsWith('/press')) return;
    event.preventDefault();
    // One tap is one press: until it is answered nothing else is sent.
    if (busy) return;
    busy = true;
    element.setAttribute('aria-busy', 'true');
    const sent = new FormData(form, event.submitter);
    sent.set('device', deviceName());
    const slow = setTimeout(() => say('Being written …'), SLOW_MS);
    const outcome = await sendUntilAnswered(form.action, sent, () => say('Not kept yet: the worktop does not answer. It is sent again by itself; leave this page open.'));
    clearTimeout(slow);
    busy = false;
    element.removeAttribute('aria-busy');
    if (outcome.html !== undefined) {
      say('Kept.');
      element.querySelector('.bench-wrong')?.remove();
      show(outcome.html);
    } else {
      complain(element, outcome.problem);
      say('Not kept.');
      await refresh();
    }
  });

  window.addEventListener('beforeunload', (event) => {
    if (busy) event.preventDefault();
  });
  listen(element, refresh);
  watchKeys(element);
  keepAwake(element);
  const now = element.querySelector('#now');
  if (now instanceof HTMLElement) {
    clock.watch(now);
    showBoard(now);
  }
}

/** @typedef {{ html?: string, problem: { title: string, detail?: string } }} Outcome */

/**
 * The same press with the same nonce, until the server answers: it is written once.
 * @param {string} url
 * @param {FormData} sent
 * @param {() => void} offline
 * @returns {Promise<Outcome>}
 */
async function sendUntilAnswered(url, sent, offline) {
  const body = new URLSearchParams();
  for (const [name, value] of sent) body.append(name, String(value));
  for (let tries = 0; ; tries++) {
    try {
      const answer = await fetch(`${url}?part=now`, { method: 'POST', body, headers: { accept: 'application/json, text/html' } });
      if (answer.ok) return { html: await answer.text(), problem: { title: '' } };
      if (answer.status < 500) return { problem: await answer.json() };
    } catch {
      // No connection: wait, and send it again.
    }
    offline();
    await new Promise((go) => setTimeout(go, WAITS_MS[Math.min(tries, WAITS_MS.length - 1)]));
  }
}

/**
 * @param {HTMLElement} element
 * @param {{ title: string, detail?: string }} problem
 */
function complain(element, problem) {
  element.querySelector('.bench-wrong')?.remove();
  const box = document.createElement('div');
  box.className = 'notice serious bench-wrong';
  box.setAttribute('role', 'alert');
  const p = document.createElement('p');
  p.textContent = [problem.title, problem.detail].filter(Boolean).join(': ');
  box.append(p);
  element.prepend(box);
}

/**
 * Another device pressed: show what is next.
 * @param {HTMLElement} element
 * @param {() => void} refresh
 */
function listen(element, refresh) {
  const events = new EventSource('/events');
  events.addEventListener('order', (event) => {
    if (String(JSON.parse(event.data).order) === element.dataset.order) refresh();
  });
  events.addEventListener('look', refresh);
  // After a lost connection something may have been missed.
  events.addEventListener('open', refresh);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') refresh();
  });
}
