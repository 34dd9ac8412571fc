// Every page that a maker can come to, found by following the links of the worktop itself.

/** A page of each sort stands for its like: findings, words and parts differ in text only. */
const LIKE = [/^\/help\/findings\//, /^\/assets\//, /\.(svg|ics|toml|csv|zip|json)$/, /\/document$/];

/**
 * Paths of the pages that links lead to, from `start` on; one of each form, so that ten thousand
 * stones are one page.
 * @param {string} base
 * @param {string[]} starts
 * @returns {Promise<{ pages: string[], broken: string[] }>} the pages, and links that lead nowhere
 */
export async function pagesOf(base, starts) {
  /** @type {Map<string, string | null>} */
  const found = new Map();
  const waiting = [...starts];
  /** @type {string[]} */
  const broken = [];
  while (waiting.length > 0) {
    const path = waiting.shift();
    const form = path.replace(/\d+/g, 'N');
    if (path === undefined || found.has(form)) continue;
    const answer = await fetch(base + path);
    const kind = answer.headers.get('content-type') ?? '';
    if (!answer.ok) {
      broken.push(`${path}: ${answer.status}`);
      found.set(form, null);
      continue;
    }
    if (!kind.startsWith('text/html')) {
      found.set(form, null);
      await answer.body?.cancel();
      continue;
    }
    found.set(form, path);
    const html = await answer.text();
    for (const [, href] of html.matchAll(/<a\b[^>]*?\bhref="([^"#?]+)/g)) {
      if (href?.startsWith('/') && !LIKE.some((l) => l.test(href))) waiting.push(href);
    }
  }
  return { pages: [...found.values()].filter((p) => p !== null), broken };
}
