// Every page: clean by axe-core in light and dark on laptop and phone, and no sideways scrolling
// at 320 px.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { SCREENS, launch, noErrors, open, shot } from './support/browser.mjs';
import { pagesOf } from './support/pages.mjs';
import { load } from './support/places.mjs';
import { Server } from './support/server.mjs';

const { source } = load('axe-core');
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
/** Pages are many, and a page of each form is one of these at least. */
const LEAST_PAGES = 12;

let browser, server, paths, broken;
before(async () => {
  server = await Server.open();
  await server.api('/orders', { name: 'Without a piece' });
  // So that every page has something to show.
  await server.api('/orders/2/plan');
  await fetch(`${server.url}/orders/2/set`, { method: 'POST', body: new URLSearchParams({ number: '1', from: '2', first: '1', last: '2' }) });
  browser = await launch();
  ({ pages: paths, broken } = await pagesOf(server.url, ['/', '/orders/new', '/orders/2', '/orders/2/text']));
});
after(async () => {
  await browser?.close();
  await server?.close();
});

/** A file's name made of a path. */
const named = (path) => path.replaceAll('/', '-').replace(/^-$/, 'home').replace(/^-/, '');

/** Opens a page and waits until its scripts have done their part. */
async function visit(page, path) {
  await page.goto(path, { waitUntil: 'load' });
  if (await page.locator('[data-module="piece"] [data-board]').count()) await page.locator('.board-stage canvas').last().waitFor();
}

/** What axe-core finds, in a line each. */
async function found(page) {
  await page.evaluate(source);
  const { violations } = await page.evaluate((tags) => globalThis.axe.run(document, {
    runOnly: { type: 'tag', values: tags }, resultTypes: ['violations'],
  }), TAGS);
  return violations.flatMap((v) => v.nodes.slice(0, 3).map((n) => `${v.id}: ${n.target.join(' ')} – ${n.failureSummary?.replace(/\s+/g, ' ')}`));
}

test('every link leads to a page', (t) => {
  assert.deepEqual(broken, []);
  t.diagnostic(`${paths.length} pages: ${paths.join(' ')}`);
  assert.ok(paths.length >= LEAST_PAGES, `only ${paths.length} pages`);
});

test('a planted fault is found', async () => {
  const page = await open(browser, server.url);
  await visit(page, '/orders/new');
  assert.deepEqual(await found(page), []);
  await page.evaluate(() => {
    document.querySelector('label[for="name"]')?.remove();
    document.querySelector('main')?.insertAdjacentHTML('beforeend', '<p>too faint</p>');
    const faint = document.querySelector('main')?.lastElementChild;
    if (faint instanceof HTMLElement) faint.style.color = '#ccc';
  });
  const wrong = (await found(page)).join('\n');
  assert.match(wrong, /^label: /m);
  assert.match(wrong, /^color-contrast: /m);
  await page.context().close();
});

for (const screen of ['laptop', 'phone']) {
  for (const colorScheme of ['light', 'dark']) {
    test(`axe-core finds nothing on a ${screen} in ${colorScheme}`, async () => {
      const page = await open(browser, server.url, { ...SCREENS[screen], colorScheme });
      const wrong = [];
      for (const path of paths) {
        await visit(page, path);
        for (const line of await found(page)) wrong.push(`${path}  ${line}`);
        await shot(page, `page-${named(path)}-${screen}-${colorScheme}`);
      }
      assert.deepEqual(wrong, []);
      noErrors(page);
      await page.context().close();
    });
  }
}

test('nothing scrolls sideways at 320 px', async () => {
  const page = await open(browser, server.url, { viewport: { width: 320, height: 640 } });
  const wide = [];
  for (const path of paths) {
    await visit(page, path);
    const out = await page.evaluate(() => {
      const root = document.documentElement;
      if (root.scrollWidth <= root.clientWidth) return null;
      const widest = [...document.querySelectorAll('main *')].filter((e) => e.getBoundingClientRect().right > root.clientWidth + 1);
      return `${root.scrollWidth} px by ${widest.slice(0, 4).map((e) => `${e.localName}.${e.className}`).join(', ')}`;
    });
    if (out) wide.push(`${path}: ${out}`);
  }
  assert.deepEqual(wide, []);
  await page.context().close();
});

test('every target is 24 px or stands apart', async () => {
  const page = await open(browser, server.url, SCREENS.phone);
  const small = [];
  for (const path of paths) {
    await visit(page, path);
    const out = await page.evaluate(() => {
      const boxes = [...document.querySelectorAll('button, select, summary, input:not([type="hidden"])')]
        .map((e) => ({ e, r: (e.closest('label') ?? e).getBoundingClientRect() }))
        .filter(({ r }) => r.width > 0 && r.height > 0);
      return boxes.filter(({ e, r }) => (r.width < 23.5 || r.height < 23.5) && !e.labels?.length)
        .map(({ e, r }) => `${e.localName} "${(e.textContent || e.name || '').trim().slice(0, 30)}" ${r.width.toFixed(0)} × ${r.height.toFixed(0)}`);
    });
    for (const line of out) small.push(`${path}: ${line}`);
  }
  assert.deepEqual(small, []);
  await page.context().close();
});
