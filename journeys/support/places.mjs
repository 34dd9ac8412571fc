// Where the journeys find what they need, and where they leave pictures.
import { createRequire } from 'node:module';
import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '../..');
const target = resolve(process.env.CARGO_TARGET_DIR ?? join(root, 'target'));

/** The program that is tried. */
export const BINARY = process.env.STONELAY ?? join(target, 'gate/stonelay');
/** The browser. */
export const CHROMIUM = process.env.CHROMIUM ?? '/usr/bin/chromium';
/** Screenshots, to be looked at. */
export const SHOTS = process.env.JOURNEYS_SHOTS ?? join(target, 'journeys');
mkdirSync(SHOTS, { recursive: true });

/** Loads an npm package from where the gate has put it. */
export const load = createRequire(join(process.env.JOURNEYS_NPM ?? join(target, 'journeys-npm'), 'here.cjs'));
