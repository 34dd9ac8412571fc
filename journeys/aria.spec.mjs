// Roles and names of a few pages, as a screen reader gets them, kept as text and compared.
// `UPDATE_ARIA=1` writes the texts anew; read what changed before you keep it.
import assert from 'node:assert/strict';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { launch, open } from './support/browser.mjs';
import { Server } from './support/server.mjs';

const KEPT = join(import.meta.dirname, 'aria');
const PAGES = { home: '/', 'new-order': '/orders/new', 'new-piece': '/orders/2/pieces/new', piece: '/orders/2/pieces/1' };

let browser, server;
before(async () => {
  server = await Server.open();
  browser = await launch();
});
after(async () => {
  await browser?.close();
  await server?.close();
});

/** Days and times of day differ from run to run. */
const steady = (text) => `${text.replace(/\d{1,2} [A-Z][a-z]{2} \d{4}, \d\d:\d\d/g, 'DAY AND TIME').trim()}\n`;

for (const [name, path] of Object.entries(PAGES)) {
  test(`what a screen reader gets of ${name}`, async () => {
    const page = await open(browser, server.url);
    await page.goto(path);
    if (name === 'piece') await page.locator('.board-stage canvas').last().waitFor();
    const now = steady(await page.locator('body').ariaSnapshot());
    const file = join(KEPT, `${name}.yml`);
    if (process.env.UPDATE_ARIA) writeFileSync(file, now);
    assert.ok(existsSync(file), `${file} is missing`);
    assert.equal(now, readFileSync(file, 'utf8'));
    await page.context().close();
  });
}
