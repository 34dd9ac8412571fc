// Stones bought and brought to the shelf; the quote and the customer's yes.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { launch, noErrors, open, shot } from './support/browser.mjs';
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

/** Planning the whole demo order takes some seconds; the pages look again by themselves until then. */
const PLANNED_MS = 120_000;

/** Stones of a kind on the shelf. */
const onHand = async (stone) => (await server.api('/stock')).filter((s) => s.stone === stone).reduce((n, s) => n + s.on_hand, 0);

test('what is to buy arrives, and is kept for the order', async () => {
  const page = await open(browser, server.url);
  await page.goto('/orders/2/buy');
  const arrived = page.locator('form.arrived').first();
  await arrived.waitFor({ timeout: PLANNED_MS });
  await shot(page, 'buy');
  const stone = await arrived.locator('[name="stone"]').inputValue();
  const stones = Number(await arrived.locator('[name="stones"]').inputValue());
  const plan = await server.api('/orders/2/plan');
  const line = plan.purchase.lines.find((l) => l.kind === stone);
  assert.equal(stones, line.stones, 'the page asks for what the API says');
  const before = await onHand(stone);
  await arrived.locator('[name="lot"]').fill('L77');
  await arrived.getByRole('button', { name: /Arrived/ }).click();
  await page.waitForURL(/done=/);
  assert.equal(await onHand(stone), before + stones);
  assert.ok((await server.api('/stock')).some((s) => s.stone === stone && s.lot === 'L77'));

  const keep = page.getByRole('button', { name: /Keep .* for this order/ });
  await keep.waitFor({ timeout: PLANNED_MS });
  await keep.click();
  await page.waitForURL(/done=/);
  const reserved = (await server.api('/stock')).reduce((n, s) => n + s.reserved, 0);
  assert.ok(reserved > 0, 'stones are kept');
  noErrors(page);
  await page.context().close();
});

test('the quote is shown, the yes is written, and a change after it says so', async () => {
  const page = await open(browser, server.url);
  await page.goto('/orders/2/quote');
  const quote = page.locator('article.quote');
  await quote.waitFor({ timeout: PLANNED_MS });
  await shot(page, 'quote');
  const plan = await server.api('/orders/2/plan');
  const asked = (await quote.innerText()).replaceAll(',', '');
  assert.match(asked, new RegExp(`To pay\\s+${String(plan.price.charged.gross).replace('.', '\\.')}`), 'the price is the plan\'s');
  await page.getByLabel('Who said yes').fill('the harbour office');
  await page.getByLabel('How').first().fill('at the counter');
  await page.getByRole('button', { name: 'Write the yes' }).click();
  await page.waitForURL(/done=/);
  const main = page.locator('main');
  assert.match(await main.innerText(), /the harbour office/);
  assert.equal(await page.getByRole('button', { name: 'Write the yes' }).count(), 0, 'the yes stands');

  const { revision } = await server.api('/orders/2');
  const changed = await server.api('/orders/2/changes', { from: revision, changes: [{ do: 'set', path: 'piece.1.zone.2.spacing', value: '0.6 mm' }] });
  await page.goto('/orders/2/quote');
  await quote.waitFor({ timeout: PLANNED_MS });
  await page.getByRole('button', { name: 'Write the yes' }).waitFor();
  assert.match(await main.innerText(), /chang/i, 'it says that something changed');
  await shot(page, 'quote-changed-after-yes');

  await server.api('/orders/2/undo', { from: changed.revision });
  await page.goto('/orders/2/quote');
  await quote.waitFor({ timeout: PLANNED_MS });
  assert.equal(await page.getByRole('button', { name: 'Write the yes' }).count(), 0, 'taken back, the yes stands again');
  noErrors(page);
  await page.context().close();
});
