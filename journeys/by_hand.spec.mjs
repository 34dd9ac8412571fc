// Stones changed by hand on the board, with nothing but the keyboard.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { launch, noErrors, open, shot } from './support/browser.mjs';
import { boardThere } from './support/order.mjs';
import { Server } from './support/server.mjs';

const HERE = '/orders/2/pieces/1';

let browser, server;
before(async () => {
  server = await Server.open();
  browser = await launch();
});
after(async () => {
  await browser?.close();
  await server?.close();
});

/** Waits until the API gives so many stones. */
async function has(n) {
  for (let i = 0; i < 200; i += 1) {
    const now = (await server.api(HERE)).stones.x.length;
    if (now === n) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  assert.fail(`${(await server.api(HERE)).stones.x.length} stones, not ${n}`);
}

test('a stone is taken away and brought back by keys', async () => {
  const page = await open(browser, server.url);
  await page.goto(HERE);
  const board = await boardThere(page);
  const n = (await server.api(HERE)).stones.x.length;
  await board.focus();
  await page.keyboard.press('Home');
  await page.keyboard.press('Delete');
  await has(n - 1);
  await shot(page, 'by-hand-taken-away');
  await page.waitForFunction((word) => document.querySelector('.board-stage canvas[role]')?.getAttribute('aria-label')?.includes(word), `${n - 1} stones`);
  const text = (await server.api('/orders/2')).text;
  assert.match(text, /by_hand/, 'the change is in the order document');

  await page.locator('[data-history="undo"]').click();
  await has(n);
  noErrors(page);
  await page.context().close();
});

test('a stone is moved by arrows', async () => {
  const page = await open(browser, server.url);
  await page.goto(HERE);
  const board = await boardThere(page);
  const before = await server.api(HERE);
  await board.focus();
  await page.keyboard.press('Home');
  await page.keyboard.press('m');
  await page.keyboard.press('Enter');
  for (let i = 0; i < 3; i += 1) await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => !document.querySelector('[data-history="undo"]')?.disabled);
  const moved = await server.api(HERE);
  // What a moved stone comes too close to is left out.
  assert.ok(moved.stones.x.length <= before.stones.x.length);
  assert.equal(moved.stones.by_hand.filter(Boolean).length, 1, 'one stone lies where a hand put it');

  await shot(page, 'by-hand-moved');
  noErrors(page);
  await page.context().close();
});
