// Sharing: a tablet is paired by the code on the maker's screen, works, and is shut out. The second
// address is one of this machine itself, so that nothing leaves it.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { SCREENS, launch, noErrors, open, press, shot } from './support/browser.mjs';
import { Server } from './support/server.mjs';

const SHARED_AT = '127.0.0.2';
let browser, server, there;
before(async () => {
  server = await Server.open({ more: ['--share', '--share-address', SHARED_AT] });
  there = `http://${SHARED_AT}:${server.port}`;
  browser = await launch();
});
after(async () => {
  await browser?.close();
  await server?.close();
});

test('a tablet is paired, works, and is shut out again', async () => {
  const desk = await open(browser, server.url, SCREENS.laptop);
  const tablet = await open(browser, there, SCREENS.tablet);

  await tablet.goto('/orders/2');
  await tablet.getByText('Pair this device first').waitFor();
  assert.equal(await tablet.getByText('Harbour lantern').count(), 0, 'a stranger sees nothing of an order');
  tablet.errors.length = 0;

  await desk.goto('/share');
  await shot(desk, 'share-laptop');
  const code = (await desk.locator('dd.code').innerText()).replace(/\s/g, '');
  assert.match(code, /^\d{6}$/);

  // As the QR code opens it: the code is filled in.
  await tablet.goto(`/pair?code=${code}`);
  await shot(tablet, 'pair-tablet');
  await press(tablet, tablet.getByRole('button', { name: 'Pair it' }));
  await tablet.waitForURL((url) => url.pathname !== '/pair');
  await tablet.goto('/orders/2');
  await tablet.getByRole('heading', { name: 'Harbour lantern festival' }).waitFor();
  noErrors(tablet);

  // The code is used up: another device needs the next one.
  const late = await open(browser, there, SCREENS.phone);
  await late.goto(`/pair?code=${code}`);
  await press(late, late.getByRole('button', { name: 'Pair it' }));
  await late.getByText('This is not the code').waitFor();

  // Who comes in is decided at the machine itself.
  assert.equal((await tablet.request.get('/share')).status(), 403);
  await desk.goto('/share');
  await press(desk, desk.getByRole('button', { name: /Shut it out/ }));
  await desk.getByText('shut out').first().waitFor();
  assert.equal((await tablet.request.get('/orders/2')).status(), 401);
  noErrors(desk);
});

test('what another machine may not do is refused to it before it is paired', async () => {
  for (const path of ['/', '/shelf', '/api/orders', '/bench', '/events']) {
    const answer = await fetch(`${there}${path}`);
    assert.equal(answer.status, 401, path);
  }
  const called = await fetch(`${there}/pair`, { method: 'POST', headers: { origin: 'http://lantern.example' } });
  assert.equal(called.status, 403);
});
