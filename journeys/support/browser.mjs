// The browser, the three screens, and a page that notes every error of its scripts.
import assert from 'node:assert/strict';
import { join } from 'node:path';
import { CHROMIUM, SHOTS, load } from './places.mjs';

const { chromium } = load('playwright-core');

/** The screens that a maker has. */
export const SCREENS = {
  laptop: { viewport: { width: 1440, height: 900 } },
  tablet: { viewport: { width: 1024, height: 768 }, hasTouch: true },
  phone: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true },
};

export function launch() {
  return chromium.launch({
    executablePath: CHROMIUM,
    // The drawing board needs WebGL2; a machine without a graphics card computes it.
    args: ['--no-sandbox', '--disable-dev-shm-usage', '--disable-background-networking', '--no-first-run', '--enable-unsafe-swiftshader'],
  });
}

/**
 * A page in a context of its own. `page.errors` fills with what went wrong in it: errors of
 * scripts, refused by the content policy, not found.
 * @param {any} browser
 * @param {string} base the server's address
 * @param {object} [how] options of the context, such as one of `SCREENS`
 */
export async function open(browser, base, how = SCREENS.laptop) {
  const context = await browser.newContext({ baseURL: base, reducedMotion: 'reduce', ...how });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  page.errors = [];
  page.on('pageerror', (/** @type {Error} */ error) => page.errors.push(error.message));
  page.on('console', (/** @type {any} */ message) => {
    // A listening page loses its line when a test ends the server: no defect of the page.
    const cut = message.text().includes('net::ERR_');
    if (message.type() === 'error' && !cut) page.errors.push(message.text());
  });
  return page;
}

/** @param {any} page */
export function noErrors(page) {
  assert.deepEqual(page.errors, [], 'errors in the page');
}

/**
 * Keeps a picture of the page among the build's output.
 * @param {any} page
 * @param {string} name
 */
export async function shot(page, name) {
  await page.screenshot({ path: join(SHOTS, `${name}.png`), fullPage: true });
}

/**
 * Takes a tap where there is touch, a click elsewhere.
 * @param {any} page
 * @param {any} what a locator
 */
export async function press(page, what) {
  const touch = await page.evaluate(() => navigator.maxTouchPoints > 0);
  await (touch ? what.tap() : what.click());
}

/**
 * The number that stands above a word in the figures of the page.
 * @param {any} page
 * @param {string} word such as `stones on one`
 */
export async function figure(page, word) {
  const figure = page.locator('.facts dl.answer > div').filter({ has: page.getByText(word, { exact: true }) });
  const text = await figure.locator('dd').first().innerText();
  const number = Number(text.replaceAll(',', '').replace(/[^\d.].*$/, ''));
  assert.ok(Number.isFinite(number), `"${text}" is no number`);
  return number;
}

/**
 * How many clearly different colours a part of the page shows: a blank canvas has one or two.
 * @param {any} page
 * @param {any} what a locator
 */
export async function coloursShown(page, what) {
  const png = (await what.screenshot()).toString('base64');
  return page.evaluate(async (/** @type {string} */ text) => {
    const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
    const image = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
    const paper = new OffscreenCanvas(image.width, image.height).getContext('2d');
    paper.drawImage(image, 0, 0);
    const { data } = paper.getImageData(0, 0, image.width, image.height);
    const seen = new Set();
    for (let i = 0; i < data.length; i += 4) seen.add((data[i] >> 4) << 8 | (data[i + 1] >> 4) << 4 | data[i + 2] >> 4);
    return seen.size;
  }, png);
}
