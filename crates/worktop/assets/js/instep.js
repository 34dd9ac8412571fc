// Says that the order of this page was changed on another device.

/** Own changes come back as events, too; the page learns its new revision first. */
const PATIENCE_MS = 800;

/** @param {HTMLElement} element has `data-order` and `data-revision` */
export function mount(element) {
  const events = new EventSource('/events');
  events.addEventListener('order', (event) => {
    const { order, revision } = JSON.parse(event.data);
    if (String(order) !== element.dataset.order) return;
    setTimeout(() => {
      if (String(revision) !== element.dataset.revision) tell();
    }, PATIENCE_MS);
  });
  window.addEventListener('pagehide', () => events.close());
}

function tell() {
  if (document.querySelector('.instep')) return;
  const note = document.createElement('div');
  note.className = 'notice warning instep';
  note.setAttribute('role', 'status');
  const again = document.createElement('a');
  again.href = location.href;
  again.textContent = 'Look again';
  note.append('This order was changed on another device. ', again);
  document.querySelector('main')?.prepend(note);
}
