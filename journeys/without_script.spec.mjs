// The worktop without script: the same first minute, by links and forms alone.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { SCREENS, figure, launch, open, shot } from './support/browser.mjs';
import { beginOrderPlainly } from './support/order.mjs';
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

test('an order, a piece, its picture and table, an option, and back', async () => {
  const page = await open(browser, server.url, { ...SCREENS.laptop, javaScriptEnabled: false });
  const order = await beginOrderPlainly(page, 'Drum hoops');
  await page.getByLabel('Name', { exact: true }).fill('hoop');
  await page.locator('label.choice', { has: page.locator('input[name="shape"][value="circle"]') }).click();
  await page.getByLabel('Width').fill('5 cm');
  await page.locator('label.choice', { hasText: 'Rings' }).click();
  await page.locator('label.choice', { hasText: 'deep water' }).click();
  await page.getByRole('button', { name: 'Lay it' }).click();
  await page.waitForURL(/\/pieces\/1/);
  const here = `/orders/${order}/pieces/1`;
  const n = async () => (await server.api(here)).stones.x.length;
  const at_first = await n();
  assert.equal(await figure(page, 'stones on one'), at_first);
  const picture = page.locator('.board > img');
  assert.ok(await picture.isVisible());
  const svg = await (await fetch(new URL(await picture.getAttribute('src'), server.url))).text();
  assert.ok(svg.includes('<svg'), 'the picture is there');
  assert.ok(await page.getByRole('cell', { name: String(at_first), exact: true }).first().isVisible(), 'the table has it');
  await shot(page, 'without-script-laid');

  await page.locator('[name="piece.1.zone.1.spacing"]').fill('1 mm');
  await page.getByRole('button', { name: 'Lay it' }).click();
  const wider = await n();
  assert.ok(wider < at_first, `${wider} of ${at_first}`);
  assert.equal(await figure(page, 'stones on one'), wider);
  await page.getByRole('button', { name: 'Undo' }).click();
  assert.equal(await n(), at_first);

  await page.goto(here);
  await page.locator('[name="piece.1.zone.1.spacing"]').fill('a lot');
  await page.getByRole('button', { name: 'Lay it' }).click();
  assert.match(await page.getByRole('alert').first().innerText(), /a lot/);
  assert.equal(await page.locator('[name="piece.1.zone.1.spacing"]').inputValue(), 'a lot');
  assert.equal(await n(), at_first, 'nothing is kept');
  await page.context().close();
});
