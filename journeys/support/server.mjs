// A worktop with a fresh shop on a free port, ended by its own process handle.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { BINARY } from './places.mjs';

/** So long a server may take to say its address, ms; it takes about 50. */
const PATIENCE_MS = 20_000;

/** An empty folder for one spec. */
export function freshFolder() {
  return mkdtempSync(join(tmpdir(), 'stonelay-journey-'));
}

/**
 * Runs the program to its end.
 * @param {string[]} args
 * @returns {Promise<{ code: number | null, said: string }>}
 */
export async function run(...args) {
  const child = spawn(BINARY, args, { stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (part) => { said += part; });
  const late = setTimeout(() => child.kill('SIGKILL'), PATIENCE_MS);
  const [code] = await once(child, 'close');
  clearTimeout(late);
  return { code, said };
}

/** One worktop. */
export class Server {
  /**
   * @param {import('node:child_process').ChildProcess} child
   * @param {string} folder
   * @param {string} url without a slash at its end
   */
  constructor(child, folder, url) {
    this.child = child;
    this.folder = folder;
    this.url = url;
  }

  get shop() {
    return join(this.folder, 'shop.db');
  }

  get port() {
    return Number(new URL(this.url).port);
  }

  /**
   * @param {{ folder?: string, port?: number, more?: string[] }} [how]
   */
  static async open({ folder = freshFolder(), port = 0, more = [] } = {}) {
    const args = ['open', '--shop', join(folder, 'shop.db'), '--port', String(port), '--quiet', ...more];
    const child = spawn(BINARY, args, { stdio: ['ignore', 'pipe', 'pipe'] });
    let said = '';
    const url = await new Promise((resolve, reject) => {
      const late = setTimeout(() => reject(new Error(`no address: ${said}`)), PATIENCE_MS);
      const hear = (/** @type {Buffer} */ part) => {
        said += part;
        const address = /(http:\/\/127\.0\.0\.1:\d+)/.exec(said)?.[1];
        if (address) {
          clearTimeout(late);
          resolve(address);
        }
      };
      child.stdout.on('data', hear);
      child.stderr.on('data', hear);
      child.on('exit', (code) => reject(new Error(`the worktop ended with ${code}: ${said}`)));
    });
    return new Server(child, folder, String(url));
  }

  /** Ends it at once, as a power cut does, and starts another on the same shop and port. */
  async cutPower() {
    await this.end('SIGKILL');
    const { port } = this;
    const next = await Server.open({ folder: this.folder, port });
    this.child = next.child;
  }

  /** Closes it, and opens another on the same shop and port. */
  async again() {
    await this.end('SIGTERM');
    const next = await Server.open({ folder: this.folder, port: this.port });
    this.child = next.child;
  }

  /** @param {NodeJS.Signals} signal */
  async end(signal) {
    if (this.child.exitCode !== null || this.child.signalCode !== null) return;
    const over = once(this.child, 'exit');
    this.child.kill(signal);
    const late = setTimeout(() => this.child.kill('SIGKILL'), PATIENCE_MS);
    await over;
    clearTimeout(late);
  }

  /** Ends it and removes its folder. */
  async close() {
    await this.end('SIGTERM');
    rmSync(this.folder, { recursive: true, force: true });
  }

  /**
   * What the API answers; an error if it does not answer with success.
   * @param {string} path
   * @param {unknown} [body] sent by POST if there is one
   * @returns {Promise<any>}
   */
  async api(path, body) {
    const answer = await fetch(`${this.url}/api${path}`, body === undefined ? {} : {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    });
    const text = await answer.text();
    if (!answer.ok) throw new Error(`${path}: ${answer.status} ${text}`);
    return text === '' ? undefined : JSON.parse(text);
  }
}
