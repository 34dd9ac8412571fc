// Steps that several journeys share.
import { press } from './browser.mjs';

/**
 * From the list of orders to the form of the first piece, as a new user goes.
 * @param {any} page
 * @param {string} name
 * @returns {Promise<number>} the order's number
 */
export async function beginOrder(page, name) {
  await page.goto('/');
  await press(page, page.getByRole('link', { name: 'New order' }).first());
  await page.getByLabel('Name').fill(name);
  await press(page, page.getByRole('button', { name: 'Begin' }));
  await page.waitForURL(/\/orders\/\d+\/pieces\/new/);
  return Number(/\/orders\/(\d+)\//.exec(page.url())?.[1]);
}

/** Once the board has taken the picture's place. @param {any} page */
export async function boardThere(page) {
  const board = page.locator('.board-stage canvas').last();
  await board.waitFor();
  return board;
}

/**
 * The same for a page without script, where nothing can be asked of it but what is on it.
 * @param {any} page
 * @param {string} name
 */
export async function beginOrderPlainly(page, name) {
  await page.goto('/orders/new');
  await page.getByLabel('Name').fill(name);
  await page.getByRole('button', { name: 'Begin' }).click();
  await page.waitForURL(/\/orders\/\d+\/pieces\/new/);
  return Number(/\/orders\/(\d+)\//.exec(page.url())?.[1]);
}
