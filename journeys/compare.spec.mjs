// Arrangements and stones side by side, sorted; one is taken, and taken back.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { launch, noErrors, open, shot } from './support/browser.mjs';
import { Server } from './support/server.mjs';

let browser, server;
before(async () => {
  server = await Server.open();
  browser = await launch();
});
after(async () => {
  await browser?.close();
  await server?.close();
});

test('ways are compared, sorted by stones, and one is taken', async () => {
  const page = await open(browser, server.url);
  await page.goto('/orders/2/pieces/1');
  await page.getByRole('link', { name: 'Compare' }).click();
  await page.waitForURL(/\/compare/);
  const cards = page.locator('.candidates > li');
  // While ways are being laid the page looks again by itself.
  await cards.nth(1).waitFor({ timeout: 60_000 });
  assert.ok((await cards.count()) >= 3, `${await cards.count()} ways`);
  await page.getByRole('navigation', { name: 'Sorted by' }).getByRole('link', { name: /stones/i }).click();
  await page.waitForURL(/by=stones/);
  await cards.nth(1).waitFor({ timeout: 60_000 });
  const stones = async (card) => {
    const facts = await card.locator('dl.facts').innerText();
    return Number(/Stones\s+([\d,]+)/.exec(facts)?.[1]?.replaceAll(',', ''));
  };
  const all = await Promise.all((await cards.all()).map(stones));
  assert.deepEqual(all, [...all].sort((a, b) => b - a), 'most stones first');
  for (const picture of await cards.locator('img').all()) {
    await picture.scrollIntoViewIfNeeded();
    await page.waitForFunction((i) => i.complete && i.naturalWidth > 0, await picture.elementHandle());
  }
  await shot(page, 'compare');

  const takeable = cards.filter({ has: page.getByRole('button', { name: /Take it/ }) });
  const standing = (await server.api('/orders/2/pieces/1')).stones.x.length;
  const before = await server.api('/orders/2');
  let chosen, n;
  for (const card of await takeable.all()) {
    [chosen, n] = [card, await stones(card)];
    if (n !== standing) break;
  }
  assert.notEqual(n, standing, 'one of the ways has other stones');
  await chosen.getByRole('button', { name: /Take it/ }).click();
  await page.waitForURL(/done=/);
  assert.equal((await server.api('/orders/2/pieces/1')).stones.x.length, n, 'what was shown is what is laid');
  await page.locator('[data-history="undo"]').click();
  await page.waitForFunction(() => !document.querySelector('[data-history="redo"]')?.disabled);
  assert.equal((await server.api('/orders/2')).text, before.text);
  noErrors(page);
  await page.context().close();
});
