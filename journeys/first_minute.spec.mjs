// The first minute of a new user: an order, a piece from a shape, its size in inches, the lay.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { SCREENS, coloursShown, figure, launch, noErrors, open, press, shot } from './support/browser.mjs';
import { beginOrder, boardThere } from './support/order.mjs';
import { Server } from './support/server.mjs';

/** 2 3/8 in. */
const WIDTH_MM = 60.325;

let browser, server;
before(async () => {
  server = await Server.open();
  browser = await launch();
});
after(async () => {
  await browser?.close();
  await server?.close();
});

for (const [screen, how] of Object.entries(SCREENS)) {
  test(`the first minute on a ${screen}`, async (t) => {
    const began = performance.now();
    const page = await open(browser, server.url, how);
    const order = await beginOrder(page, `Pennants, ${screen}`);
    await page.getByLabel('Name', { exact: true }).fill('pennant');
    await page.getByLabel('Copies').fill('3');
    await press(page, page.locator('label.choice', { hasText: 'Heart' }));
    await page.getByLabel('Width').fill('2 3/8 in');
    await press(page, page.locator('label.choice', { hasText: 'sea glass' }));
    await shot(page, `first-minute-form-${screen}`);
    await press(page, page.getByRole('button', { name: 'Lay it' }));
    await page.waitForURL(/\/pieces\/1/);
    const board = await boardThere(page);
    t.diagnostic(`from the list of orders to the lay: ${((performance.now() - began) / 1000).toFixed(1)} s`);

    const laid = await server.api(`/orders/${order}/pieces/1`);
    const n = laid.stones.x.length;
    assert.ok(n > 30, `only ${n} stones`);
    assert.equal(await figure(page, 'stones on one'), n);
    assert.equal(await figure(page, 'stones on all copies'), 3 * n);
    assert.ok(Math.abs(laid.width_mm - WIDTH_MM) < 1e-6, `${laid.width_mm} mm wide`);
    assert.equal(await page.locator('.board > img').isVisible(), false, 'the picture stays beside the board');
    assert.ok((await coloursShown(page, board)) > 20, 'the board shows no stones');
    await shot(page, `first-minute-laid-${screen}`);

    await page.goto('/');
    assert.ok(await page.getByRole('link', { name: `Pennants, ${screen}` }).isVisible());
    noErrors(page);
    await page.context().close();
  });
}
