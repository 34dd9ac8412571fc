// An option changed: board and facts follow; undone, redone, and kept when the worktop is closed.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { figure, launch, noErrors, open, shot } from './support/browser.mjs';
import { boardThere } from './support/order.mjs';
import { Server } from './support/server.mjs';

const HERE = '/orders/2/pieces/1';

let browser, server;
before(async () => {
  server = await Server.open();
  browser = await launch();
});
after(async () => {
  await browser?.close();
  await server?.close();
});

const stones = async () => (await server.api(HERE)).stones.x.length;

/** Waits until the facts of the page say so many stones. */
async function says(page, n) {
  const end = performance.now() + 15_000;
  while ((await figure(page, 'stones on one')) !== n) {
    assert.ok(performance.now() < end, `the page says ${await figure(page, 'stones on one')}, not ${n}`);
    await page.waitForTimeout(50);
  }
}

test('an option changed, undone, redone, kept over a restart', async () => {
  const page = await open(browser, server.url);
  await page.goto(HERE);
  const board = await boardThere(page);
  const at_first = await stones();
  await says(page, at_first);

  const spacing = page.locator('[name="piece.1.zone.2.spacing"]');
  await spacing.fill('0.9 mm');
  await spacing.press('Tab');
  await page.waitForFunction(() => !document.querySelector('[data-history="undo"]')?.disabled);
  const wider = await stones();
  assert.ok(wider < at_first, `${wider} of ${at_first} stones`);
  await says(page, wider);
  assert.match(await board.getAttribute('aria-label'), new RegExp(`${wider} stones`), 'the board follows');
  await shot(page, 'option-changed');

  await page.locator('[data-history="undo"]').click();
  await says(page, at_first);
  assert.equal(await stones(), at_first);
  await page.locator('[data-history="redo"]').click();
  await says(page, wider);

  await server.again();
  await page.goto(HERE);
  await boardThere(page);
  await says(page, wider);
  await page.locator('[data-history="undo"]').click();
  await says(page, at_first);
  assert.equal(await stones(), at_first, 'undo reaches back beyond the restart');
  noErrors(page);
  await page.context().close();
});

test('a value that cannot be is told beside its field, and stays there', async () => {
  const page = await open(browser, server.url);
  await page.goto(HERE);
  await boardThere(page);
  const { revision } = await server.api('/orders/2');
  const spacing = page.locator('[name="piece.1.zone.2.spacing"]');
  await spacing.fill('two parrots');
  await spacing.press('Tab');
  await page.locator('[name="piece.1.zone.2.spacing"][aria-invalid="true"]').waitFor();
  assert.equal(await spacing.inputValue(), 'two parrots');
  const help = await page.locator(`#${await spacing.getAttribute('aria-describedby')}`).innerText();
  assert.match(help, /two parrots/, help);
  assert.equal((await server.api('/orders/2')).revision, revision, 'nothing is kept');
  await shot(page, 'option-refused');
  await page.context().close();
});

test('what is typed while a change is on its way stays, and is kept', async () => {
  const page = await open(browser, server.url);
  await page.goto(HERE);
  await boardThere(page);
  // The answer to the first change comes while the second is typed, and that to the second late.
  let n = 0;
  await page.route('**/options', async (route) => {
    n += 1;
    await new Promise((go) => { setTimeout(go, n === 1 ? 600 : 200); });
    await route.continue();
  });
  const spacing = page.locator('[name="piece.1.zone.2.spacing"]');
  const frame = page.locator('[name="piece.1.zone.1.spacing"]');
  await spacing.fill('0.7');
  await spacing.press('Tab');
  await frame.focus();
  await frame.fill('');
  await frame.pressSequentially('0.08', { delay: 400 });
  assert.equal(await frame.inputValue(), '0.08', 'nothing typed was taken away');
  await frame.press('Tab');
  await spacing.fill('0.6 mm');
  await spacing.press('Enter');
  await page.waitForTimeout(1500);
  const { text } = await server.api('/orders/2');
  assert.match(text, /spacing\s*= "0.08 mm"/);
  assert.match(text, /spacing\s*= "0.6 mm"/);
  assert.match(text, /"night tide", share = "70 %"/, 'Enter presses no button that takes something out');
  assert.equal(await spacing.inputValue(), '0.6 mm');
  assert.equal(await frame.inputValue(), '0.08 mm', 'and is shown as it was written down');
  noErrors(page);
  await page.context().close();
});
