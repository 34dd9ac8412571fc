// Sharing: refused until paired, paired by the code, shut out again. Everything stays on this machine.
import assert from 'node:assert/strict';
import { networkInterfaces } from 'node:os';
import { after, before, test } from 'node:test';
import { SCREENS, launch, open, shot } from './support/browser.mjs';
import { Server } from './support/server.mjs';

/** An address of this machine by which another would reach it; what is sent to it stays here. */
const address = Object.values(networkInterfaces()).flat().find((a) => a?.family === 'IPv4' && !a.internal)?.address;

let browser, server;
before(async () => {
  assert.ok(address, 'this machine has an address in a network');
  server = await Server.open({ more: ['--share', '--share-address', address] });
  browser = await launch();
});
after(async () => {
  await browser?.close();
  await server?.close();
});

test('a tablet is paired, works, and is shut out', async () => {
  const laptop = await open(browser, server.url);
  const tablet = await open(browser, `http://${address}:${server.port}`, SCREENS.tablet);
  assert.equal((await tablet.goto('/')).status(), 401, 'a stranger is refused');
  assert.equal((await tablet.goto('/api/orders')).status(), 401);

  await laptop.goto('/share');
  await laptop.locator('.qr svg').first().waitFor();
  await shot(laptop, 'share');
  const code = (await laptop.locator('dd.code').innerText()).replace(/\s/g, '');
  assert.match(code, /^\d{6}$/);

  await tablet.goto('/pair');
  await shot(tablet, 'pair-tablet');
  await tablet.getByLabel('Pairing code').fill(code === '111111' ? '222222' : '111111');
  await tablet.getByRole('button', { name: 'Pair it' }).click();
  assert.ok(await tablet.getByRole('alert').isVisible(), 'another code pairs nobody');
  await tablet.getByLabel('Pairing code').fill(code);
  await tablet.getByLabel('What this device is called').fill('bench tablet');
  await tablet.getByRole('button', { name: 'Pair it' }).click();
  await tablet.waitForURL(/\/\?done=/);
  assert.equal((await tablet.goto('/orders/2')).status(), 200);
  assert.equal((await tablet.goto('/share')).status(), 403, 'who comes in is decided at the machine itself');

  const other = await open(browser, `http://${address}:${server.port}`, SCREENS.phone);
  await other.goto('/pair');
  await other.getByLabel('Pairing code').fill(code);
  await other.getByRole('button', { name: 'Pair it' }).click();
  assert.ok(await other.getByRole('alert').isVisible(), 'each code pairs one device');

  await laptop.goto('/share');
  await laptop.getByRole('button', { name: /Shut it out\s*: bench tablet/ }).click();
  await laptop.waitForURL(/done=/);
  assert.equal((await tablet.goto('/orders/2')).status(), 401);
  for (const page of [laptop, tablet, other]) await page.context().close();
});
