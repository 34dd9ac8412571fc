// Counts the open time of the glue down, in words, a sign and a colour.

/** From here on it is soon over: a part of the whole open time. */
const SOON = 0.2;

export class Clock {
  #ends_ms = 0;
  #whole_ms = 0;
  #timer = 0;
  /** @type {HTMLElement | undefined} */
  #shown;
  #said = '';

  /**
   * @param {(text: string) => void} say tells it where a screen reader hears it
   * @param {() => void} over is called when the time is over
   */
  constructor(say, over) {
    this.say = say;
    this.over = over;
  }

  /** @param {HTMLElement} now the part of the page that says how long is left */
  watch(now) {
    clearInterval(this.#timer);
    const shown = now.querySelector('[data-clock]');
    if (!(shown instanceof HTMLElement) || now.dataset.leftMs === undefined) {
      this.#said = '';
      return;
    }
    this.#shown = shown;
    this.#whole_ms = Number(now.dataset.wholeMs);
    // The clock of the page only runs forward; that of the wall may be set.
    this.#ends_ms = performance.now() + Number(now.dataset.leftMs);
    this.#timer = window.setInterval(() => this.#tick(), 1000);
    this.#tick();
  }

  #tick() {
    const shown = this.#shown;
    if (!shown) return;
    const left_s = Math.round((this.#ends_ms - performance.now()) / 1000);
    const state = left_s <= 0 ? 'bad' : left_s * 1000 <= SOON * this.#whole_ms ? 'warn' : 'good';
    const text = left_s <= 0
      ? `✕ skinned, over by ${words(-left_s)}`
      : `${state === 'warn' ? '▲ soon over:' : '●'} ${words(left_s)} of open time left`;
    shown.className = `bench-clock ${state}`;
    shown.textContent = text;
    if (state !== this.#said) {
      if (state === 'warn') this.say(`The glue skins in ${words(left_s)}.`);
      const now_over = state === 'bad' && this.#said !== '';
      this.#said = state;
      if (now_over) {
        this.say('The glue has skinned: take it off, put fresh glue on.');
        this.over();
      }
    }
  }
}

/** @param {number} s */
function words(s) {
  const min = Math.floor(s / 60);
  const rest = String(s % 60).padStart(2, '0');
  return min >= 60 ? `${Math.floor(min / 60)} h ${min % 60} min` : `${min}:${rest} min`;
}
