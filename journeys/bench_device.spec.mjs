// What the bench asks of its device: a screen that stays on, a voice, a pedal; and that it says so
// where the device does not give it.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { SCREENS, launch, noErrors, open, press, shot } from './support/browser.mjs';
import { Server } from './support/server.mjs';

let browser, server, here;
before(async () => {
  server = await Server.open();
  browser = await launch();
  const revision = (await server.api('/orders/2')).revision;
  const begun = await server.api('/orders/2/settings', { from: revision, setting: { nonce: 'journey', number: 1, first: 1, last: 2 } });
  here = `/bench/${begun.id}`;
});
after(async () => {
  await browser?.close();
  await server?.close();
});

/** A page at the bench, its device's gifts replaced before any script runs. */
async function atBench(script) {
  const page = await open(browser, server.url, SCREENS.tablet);
  await page.addInitScript(script);
  await page.goto(here);
  await page.locator('[data-module^="bench"][data-ready]').waitFor();
  return page;
}

test('where the screen cannot be kept on, the bench says so', async () => {
  const page = await atBench(() => {
    Object.defineProperty(navigator, 'wakeLock', {
      value: { request: () => Promise.reject(new DOMException('no', 'NotAllowedError')) },
    });
  });
  await page.getByText('lets the screen go dark').waitFor();
  noErrors(page);
});

test('the screen is asked for again whenever the page comes back into sight', async () => {
  const page = await atBench(() => {
    window.asked = 0;
    Object.defineProperty(navigator, 'wakeLock', {
      value: { request: async () => { window.asked += 1; return {}; } },
    });
  });
  await page.getByText('The screen stays on.').waitFor();
  await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
  await page.waitForFunction(() => window.asked === 2);
});

test('each step is spoken once that is switched on, with whose copy it is on the page', async () => {
  const page = await atBench(() => {
    window.spoken = [];
    speechSynthesis.speak = (what) => window.spoken.push(what.text);
  });
  assert.match(await page.locator('.bench-copy').innerText(), /copy 1 of 18, for Ada/);
  const spoken = () => page.evaluate(() => window.spoken);
  assert.deepEqual(await spoken(), [], 'nothing is said unasked');
  await page.locator('#bench-speak').evaluate((box) => box.closest('details')?.setAttribute('open', ''));
  await page.locator('#bench-speak').check();
  const first = (await spoken()).at(-1);
  assert.match(first, /^(Row|Handful) \d+: \d+ /);
  // The first press says that the glue is on; the next ones set rows.
  for (let n = 0; n < 2; n += 1) {
    const before = Number(await page.locator('#now').getAttribute('data-presses'));
    await press(page, page.locator('[data-act="done"]').first());
    await page.waitForFunction((k) => Number(document.querySelector('#now')?.dataset.presses) > k, before);
  }
  const last = (await spoken()).at(-1);
  assert.notEqual(last, first, 'the next step is another');
  assert.equal(last, await page.locator('#now').getAttribute('data-speak'));
  await shot(page, 'bench-whose-copy');
  noErrors(page);
});

test('without a connection a press waits, and is kept once when it is back', async () => {
  const page = await atBench(() => {});
  const presses = async () => Number(await page.locator('#now').getAttribute('data-presses'));
  const before = await presses();
  await page.context().setOffline(true);
  await press(page, page.locator('[data-act="done"]').first());
  await page.getByText('Not kept yet').waitFor();
  await press(page, page.locator('[data-act="done"]').first());
  await page.context().setOffline(false);
  await page.waitForFunction((k) => Number(document.querySelector('#now')?.dataset.presses) > k, before);
  assert.equal(await presses(), before + 1, 'however often it was tapped');
});

test('stones glint as the tablet is tilted', async () => {
  const page = await open(browser, server.url, { ...SCREENS.tablet, reducedMotion: 'no-preference' });
  await page.goto('/orders/2/pieces/1');
  const canvas = page.locator('canvas').first();
  await canvas.waitFor();
  const tilt = (beta, gamma) => page.evaluate(([b, g]) => {
    window.dispatchEvent(new DeviceOrientationEvent('deviceorientation', { alpha: 0, beta: b, gamma: g }));
    return new Promise((drawn) => { setTimeout(() => requestAnimationFrame(() => drawn(undefined)), 400); });
  }, [beta, gamma]);
  await tilt(40, -25);
  const one = await canvas.screenshot();
  await tilt(40, 25);
  const other = await canvas.screenshot();
  assert.ok(!one.equals(other), 'light falls otherwise');
  noErrors(page);
});
