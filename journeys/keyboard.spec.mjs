// From home to a covered piece with nothing but the keyboard; the focus can be seen at every stop.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { figure, launch, noErrors, open } from './support/browser.mjs';
import { Server } from './support/server.mjs';

/** More presses of Tab than any page has stops. */
const MOST_STOPS = 200;

let browser, server;
before(async () => {
  server = await Server.open();
  browser = await launch();
});
after(async () => {
  await browser?.close();
  await server?.close();
});

/** What has the focus: its name and whether it can be seen and looks focused. */
const focused = (page) => page.evaluate(() => {
  const e = document.activeElement;
  if (!(e instanceof HTMLElement) || e === document.body) return { name: '', seen: true };
  const label = e.labels?.[0]?.textContent ?? e.getAttribute('aria-label') ?? e.textContent ?? '';
  const style = getComputedStyle(e);
  const box = e.getBoundingClientRect();
  const marked = style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 1 || style.boxShadow !== 'none';
  const middle = document.elementFromPoint(box.left + box.width / 2, box.top + Math.min(box.height / 2, 20));
  const free = !middle || e.contains(middle) || middle.contains(e) || (e.labels ? [...e.labels].some((l) => l.contains(middle)) : false);
  return { name: `${e.localName} ${label.replace(/\s+/g, ' ').trim()}`, seen: marked && free && box.width > 0 };
});

/** Presses Tab until what has the focus matches. */
async function tabTo(page, what) {
  const passed = [];
  for (let i = 0; i < MOST_STOPS; i += 1) {
    const now = await focused(page);
    assert.ok(now.seen, `the focus on "${now.name}" cannot be seen`);
    if (what.test(now.name)) return;
    passed.push(now.name);
    await page.keyboard.press('Tab');
  }
  assert.fail(`no stop matches ${what}: ${passed.slice(0, 60).join(' | ')}`);
}

test('from home to a covered piece', async () => {
  const page = await open(browser, server.url);
  await page.goto('/');
  await page.keyboard.press('Tab');
  assert.match((await focused(page)).name, /To the content/, 'the way past the head comes first');
  await page.keyboard.press('Enter');
  await tabTo(page, /^a New order/);
  await page.keyboard.press('Enter');
  await page.waitForURL(/\/orders\/new/);
  await tabTo(page, /^input Name/);
  await page.keyboard.type('Keys');
  await page.keyboard.press('Enter');
  await page.waitForURL(/\/pieces\/new/);
  await tabTo(page, /^input Name/);
  await page.keyboard.type('star');
  await tabTo(page, /^input Rectangle, rounded/);
  for (let i = 0; i < 5; i += 1) await page.keyboard.press('ArrowDown');
  assert.match((await focused(page)).name, /Star/);
  await tabTo(page, /^input Width/);
  await page.keyboard.type('7 cm');
  await tabTo(page, /^input sea glass/);
  await page.keyboard.press('Space');
  await tabTo(page, /^button Lay it/);
  await page.keyboard.press('Enter');
  await page.waitForURL(/\/pieces\/1/);
  await page.locator('.board-stage canvas').last().waitFor();
  assert.ok((await figure(page, 'stones on one')) > 20);
  noErrors(page);
  await page.context().close();
});
