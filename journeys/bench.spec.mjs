// At the bench: a whole badge set row by row, with a power cut in the middle; two devices in step.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { SCREENS, launch, open, press, shot } from './support/browser.mjs';
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

/** More presses than a badge has rows, stretches and looks. */
const MOST_PRESSES = 400;
/** The power is cut at this press. */
const CUT_AT = 7;

const presses = (page) => page.locator('#now').getAttribute('data-presses').then(Number);
const step = (page) => page.locator('#now').getAttribute('data-step');

/** Begins setting copies of the badge; gives the bench's path. */
async function begin(page, first, last) {
  await page.goto('/orders/2/set');
  // Larger pieces may still be laid; the page looks again by itself until then.
  await page.locator('[data-module="again"]').first().waitFor({ state: 'detached', timeout: 90_000 });
  const form = page.locator('section.bench-begin', { has: page.getByRole('heading', { name: 'badge', exact: true }) });
  await form.getByLabel('From').fill(String(first));
  await form.getByLabel('To').fill(String(last));
  await press(page, form.getByRole('button', { name: /Begin setting/ }));
  await page.waitForURL(/\/bench\/\d+/);
  return new URL(page.url()).pathname;
}

/** Presses the main button, and waits until it is kept. */
async function pressDone(page) {
  const before = await presses(page);
  await press(page, page.locator('[data-act="done"]').first());
  await page.waitForFunction((n) => Number(document.querySelector('#now')?.dataset.presses) > n, before);
  assert.equal(await presses(page), before + 1, 'one tap is one press');
}

test('a badge is set, and a power cut loses nothing', async (t) => {
  const page = await open(browser, server.url, SCREENS.tablet);
  const shelf_before = await server.api('/stock');
  const here = await begin(page, 1, 1);
  await page.locator('#now').waitFor();
  await shot(page, 'bench-row-tablet');
  const targets = await page.locator('#now button:visible').evaluateAll((all) => all.map((b) => b.getBoundingClientRect()).filter((r) => r.height < 47.5 || r.width < 47.5).length);
  assert.equal(targets, 0, 'every button of the bench is 48 px');
  let n = 0;
  while ((await step(page)) !== 'over') {
    n += 1;
    assert.ok(n <= MOST_PRESSES, `still at ${await step(page)} after ${n} presses`);
    if (n !== CUT_AT) {
      await pressDone(page);
      continue;
    }
    // The power goes; the press is made all the same, and waits for the worktop to come back.
    const before = await presses(page);
    await server.end('SIGKILL');
    await press(page, page.locator('[data-act="done"]').first());
    await page.getByText('Not kept yet').waitFor();
    await shot(page, 'bench-without-power');
    await server.cutPower();
    await page.waitForFunction((k) => Number(document.querySelector('#now')?.dataset.presses) > k, before);
    assert.equal(await presses(page), before + 1, 'it is kept once');
    await page.goto(here);
    assert.equal(await presses(page), before + 1, 'and is there when the page is opened anew');
  }
  await shot(page, 'bench-over');
  t.diagnostic(`${n} presses`);
  const board = await server.api('/orders/2/pieces/1');
  const lines = (await server.api('/ledger?order=2&limit=500')).filter((l) => l.what === 'used');
  const used = lines.reduce((sum, l) => sum + l.stones, 0);
  assert.equal(used, board.stones.x.length, 'the stones of one badge have left the shelf, once');
  for (const line of lines) {
    const of = (all) => all.filter((s) => s.stone === line.stone).reduce((sum, s) => sum + s.on_hand, 0);
    assert.equal(of(await server.api('/stock')), of(shelf_before) - lines.filter((l) => l.stone === line.stone).reduce((sum, l) => sum + l.stones, 0), line.stone);
  }
  await press(page, page.getByRole('button', { name: 'Close this setting' }));
  await page.waitForURL(/\/orders\/2\/set/);
  assert.match(await page.locator('main').innerText(), /1 copy is set/);
  await page.context().close();
});

test('two devices at one setting stay in step', async () => {
  const tablet = await open(browser, server.url, SCREENS.tablet);
  const here = await begin(tablet, 2, 2);
  const phone = await open(browser, server.url, SCREENS.phone);
  await phone.goto(here);
  await shot(phone, 'bench-row-phone');
  for (const [one, other] of [[tablet, phone], [phone, tablet], [tablet, phone]]) {
    await pressDone(one);
    const [now, n] = [await step(one), await presses(one)];
    await other.waitForFunction(([s, k]) => {
      const at = document.querySelector('#now');
      return at instanceof HTMLElement && at.dataset.step === s && Number(at.dataset.presses) === k;
    }, [now, n]);
  }
  await tablet.context().close();
  await phone.context().close();
});

test('the bench by a foot pedal: keys alone', async () => {
  const page = await open(browser, server.url, SCREENS.laptop);
  await begin(page, 3, 3);
  await page.locator('[data-module="bench"][data-ready]').waitFor({ state: 'attached' });
  const before = await presses(page);
  await page.keyboard.press('Enter');
  await page.waitForFunction((n) => Number(document.querySelector('#now')?.dataset.presses) > n, before);
  assert.equal(await presses(page), before + 1);
  await page.context().close();
});

test('what is typed stays while another piece is being laid', async () => {
  const fresh = await Server.open();
  try {
    const page = await open(browser, fresh.url, SCREENS.laptop);
    await page.goto('/orders/2/set');
    // The lantern takes longest; the badge is there before it.
    const field = page.locator('section.bench-begin', { has: page.getByRole('heading', { name: 'badge', exact: true }) }).getByLabel('To');
    await field.fill('5');
    await page.waitForTimeout(2500);
    assert.equal(await field.inputValue(), '5');
    await page.context().close();
  } finally {
    await fresh.close();
  }
});
