// An outline of one's own: brought as SVG and covered; and one that cannot be read.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { SCREENS, figure, launch, noErrors, open, shot } from './support/browser.mjs';
import { beginOrder, boardThere } from './support/order.mjs';
import { Server } from './support/server.mjs';

/** A buoy on a wave, drawn for this. */
const BUOY = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 48 60">
  <path d="M24 2 38 34H10Z"/><rect x="6" y="36" width="36" height="9" rx="3"/>
  <path d="M2 50q7-6 14 0t14 0 14 0v8H2Z"/></svg>`;
const BROKEN = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 48 60"><path d="M24 2 38';

let browser, server;
before(async () => {
  server = await Server.open();
  browser = await launch();
});
after(async () => {
  await browser?.close();
  await server?.close();
});

const file = (text) => ({ name: 'buoy.svg', mimeType: 'image/svg+xml', buffer: Buffer.from(text) });

test('a drawing is brought in and covered', async () => {
  const page = await open(browser, server.url);
  const order = await beginOrder(page, 'Buoys');
  await page.getByLabel('Name', { exact: true }).fill('buoy');
  await page.locator('#outline').setInputFiles(file(BUOY));
  await page.getByLabel('Width').fill('90 mm');
  await page.getByText('sea glass').first().click();
  await page.getByRole('button', { name: 'Lay it' }).click();
  await page.waitForURL(/\/pieces\/1/);
  await boardThere(page);
  const laid = await server.api(`/orders/${order}/pieces/1`);
  assert.ok(Math.abs(laid.width_mm - 90) < 0.01, `${laid.width_mm} mm wide`);
  assert.equal(await figure(page, 'stones on one'), laid.stones.x.length);
  assert.ok(laid.stones.x.length > 80, `only ${laid.stones.x.length} stones`);
  await shot(page, 'outline-covered');

  // Taken along, the drawing is in it, byte for byte.
  const bundle = await server.api(`/orders/${order}/bundle`);
  assert.deepEqual(bundle.files.map((f) => f.text), [BUOY]);
  noErrors(page);
  await page.context().close();
});

test('a drawing that cannot be read is refused, and what was typed stays', async () => {
  const page = await open(browser, server.url, SCREENS.phone);
  const order = await beginOrder(page, 'Broken buoys');
  const before = (await server.api(`/orders/${order}`)).revision;
  await page.getByLabel('Name', { exact: true }).fill('buoy');
  await page.locator('#outline').setInputFiles(file(BROKEN));
  await page.getByLabel('Width').fill('91 mm');
  await page.getByText('Square rows').click();
  await page.locator('label.choice', { hasText: 'sea glass' }).click();
  await page.getByRole('button', { name: 'Lay it' }).click();
  const alert = page.getByRole('alert');
  await alert.waitFor();
  assert.match(await alert.innerText(), /buoy\.svg/, 'the message names the file');
  assert.equal(await page.getByLabel('Name', { exact: true }).inputValue(), 'buoy');
  assert.equal(await page.getByLabel('Width').inputValue(), '91 mm');
  assert.ok(await page.locator('input[value="square"]').isChecked());
  assert.ok(await page.locator('input[value="sea glass"]').isChecked());
  const now = await server.api(`/orders/${order}`);
  assert.equal(now.revision, before, 'nothing is kept');
  assert.deepEqual((await server.api(`/orders/${order}/bundle`)).files, []);
  await shot(page, 'outline-refused-phone');
  await page.context().close();
});

test('an order document with a mistake is refused by its place', async () => {
  const page = await open(browser, server.url);
  const before = (await server.api('/orders')).length;
  await page.goto('/orders/new');
  const text = 'stonelay = 1\norder = "Pier"\n\n[[kind]]\nname = "dew"\nsize = "SS1000"\n';
  await page.locator('#files').setInputFiles({ name: 'order.toml', mimeType: 'application/toml', buffer: Buffer.from(text) });
  await page.getByRole('button', { name: 'Bring it in' }).click();
  const said = await page.locator('main').innerText();
  assert.match(said, /SS1000/, said);
  assert.match(said, /kind 1 "dew" › size/, `the place is named: ${said}`);
  assert.equal((await server.api('/orders')).length, before, 'nothing is kept');
  await shot(page, 'order-refused');
  await page.context().close();
});
