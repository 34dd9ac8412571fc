// What the world does to a worktop: another one on the same shop, a taken port, a spoilt file.
import assert from 'node:assert/strict';
import { writeFileSync, readFileSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { once } from 'node:events';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { Server, freshFolder, run } from './support/server.mjs';

let server;
before(async () => {
  server = await Server.open();
});
after(() => server?.close());

test('a second worktop on the same shop refuses and names the first', async () => {
  const { code, said } = await run('open', '--shop', server.shop, '--port', '0', '--quiet');
  assert.equal(code, 1, said);
  assert.match(said, new RegExp(`\\b${server.child.pid}\\b`), `names the process: ${said}`);
  assert.equal((await fetch(`${server.url}/`)).status, 200, 'the first goes on');
});

test('a taken port is named, with the way out', async () => {
  const taken = createServer().listen(0, '127.0.0.1');
  await once(taken, 'listening');
  const folder = freshFolder();
  try {
    const port = String(taken.address().port);
    const { code, said } = await run('open', '--shop', join(folder, 'shop.db'), '--port', port, '--quiet');
    assert.equal(code, 1, said);
    assert.match(said, new RegExp(`port ${port}`), said);
    assert.match(said, /--port/, said);
  } finally {
    taken.close();
    rmSync(folder, { recursive: true });
  }
});

test('a file that is no shop is refused and left as it is', async () => {
  const folder = freshFolder();
  const file = join(folder, 'shop.db');
  writeFileSync(file, 'a letter to the harbour master\n'.repeat(300));
  const was = readFileSync(file);
  const { code, said } = await run('open', '--shop', file, '--port', '0', '--quiet');
  assert.equal(code, 1, said);
  assert.ok(said.includes(file), said);
  assert.deepEqual(readFileSync(file), was);
  rmSync(folder, { recursive: true });
});

test('a stranger is not answered: another host, another origin', async () => {
  const { request } = await import('node:http');
  const ask = (headers, method = 'GET') => new Promise((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port: server.port, path: '/orders', method, headers }, (answer) => {
      answer.resume();
      answer.on('end', () => resolve(answer.statusCode));
    });
    asked.on('error', reject);
    asked.end();
  });
  assert.equal(await ask({ host: 'harbour.example' }), 421);
  assert.equal(await ask({ host: `127.0.0.1:${server.port}`, origin: 'http://harbour.example' }, 'POST'), 403);
});
