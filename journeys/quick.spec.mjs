// How soon the picture follows an option, on a piece of 2,000 stones. The goal of 100 ms is held against
// the time until the stones are handed to the graphics card, which a gate has not: what the frame takes
// that shows them is told beside it. The test fails at five times the goal, since a gate does other
// things as well.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { launch, noErrors, open } from './support/browser.mjs';
import { boardThere } from './support/order.mjs';
import { Server } from './support/server.mjs';

const GOAL_MS = 100;
const ALLOWANCE = 5;
/** 2,000 stones and some: SS6 in a honeycomb. */
const ORDER = `stonelay = 1
order = "A pier"
[[kind]]
name = "spray"
size = "2 mm"
[[piece]]
name = "plank"
blank = { shape = "rectangle", width = "100 mm", height = "84 mm" }
arrangement = "honeycomb"
spacing = "0.1 mm"
mix = "spray"
`;

let browser, server, here;
before(async () => {
  server = await Server.open();
  browser = await launch();
  const order = await server.api('/bundles', { text: ORDER, files: [] });
  here = `/orders/${order.id}/pieces/1`;
});
after(async () => {
  await browser?.close();
  await server?.close();
});

test('an option changed is on the screen within the time it takes to look up', async (t) => {
  const page = await open(browser, server.url);
  await page.goto(here);
  await boardThere(page);
  const took = [];
  for (const spacing of ['0.2 mm', '0.02 mm', '0.15 mm', '0.05 mm', '0.25 mm', '0.08 mm', '0 mm']) {
    took.push(await page.evaluate(async (typed) => {
      const field = document.querySelector('[name="piece.1.zone.1.spacing"]');
      const canvas = [...document.querySelectorAll('.board-stage canvas')].at(-1);
      const was = canvas.getAttribute('aria-label');
      field.value = typed;
      const began = performance.now();
      field.dispatchEvent(new Event('change', { bubbles: true }));
      const frame = () => new Promise((go) => requestAnimationFrame(go));
      while (canvas.getAttribute('aria-label') === was) {
        if (performance.now() - began > 10_000) throw new Error(`no other picture at ${typed}`);
        await frame();
      }
      const drawn = performance.now() - began;
      await frame();
      return { drawn, shown: performance.now() - began };
    }, spacing));
  }
  const stones = Number(/(\d[\d,]*) stones/.exec(await page.locator('.board-stage canvas').last().getAttribute('aria-label'))?.[1].replaceAll(',', ''));
  assert.ok(stones >= 2000, `${stones} stones`);
  const median = (/** @type {'drawn' | 'shown'} */ of) => took.map((t) => t[of]).sort((a, b) => a - b)[Math.floor(took.length / 2)];
  t.diagnostic(`${stones} stones: ${median('drawn').toFixed(0)} ms from option to picture (goal ${GOAL_MS}), ${median('shown').toFixed(0)} ms until this machine shows it`);
  assert.ok(median('drawn') <= ALLOWANCE * GOAL_MS, `${median('drawn')} ms`);
  noErrors(page);
});
