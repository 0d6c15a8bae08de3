import { isIP } from 'node:net';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { RecordingLimits } from '../recording/recording-limits.js';

/**
 * What the environment sets:
 *
 * - `PORT`: port to listen on; 4170 if unset. When it is taken, the next free one. 0: any free one.
 * - `BLOCKBELL_NETWORK`: `open` lets the local network in, and has people sign in; `closed` if unset: this machine only.
 * - `BLOCKBELL_NAMES`: further host names and addresses under which browsers find the server, with commas between; only
 *   read where the network is open.
 * - `DATA_DIR`: folder of the database; `data` at the root of the working tree if unset.
 * - `BLOCKBELL_EXAMPLE`: example that the first session runs, `demo` if unset. Only read when the database holds
 *   no unfinished session.
 * - `BLOCKBELL_FAULTS`: file of scripted faults that happen on the simulated layout; none if unset. For rehearsing
 *   what goes wrong with the board live.
 * - `BLOCKBELL_PLANNING`: `on` has a thread of its own plan ahead, and trains follow the plan where that is safe; `off` has them
 *   dispatched without one. `on` if unset.
 * - `BLOCKBELL_RECORDINGS` and `BLOCKBELL_RECORDINGS_MB`: how many sessions' recordings are kept, and how many megabytes of
 *   all together; 100 and 1000 if unset. The oldest goes first.
 */
export interface Settings {
  readonly port: number;
  /** Whether the local network may come in, and people sign in. */
  readonly open: boolean;
  /** Host names and addresses it answers under beside this machine's own. */
  readonly names: readonly string[];
  readonly dataFolder: string;
  readonly example: string;
  readonly faults: string | null;
  readonly planning: boolean;
  readonly recordings: RecordingLimits;
}

const ROOT = fileURLToPath(new URL('../../../../', import.meta.url));

/** Reads the settings; throws with a sentence that names the variable and what it may be. */
export function readSettings(environment: NodeJS.ProcessEnv): Settings {
  return {
    port: portFrom(environment['PORT']),
    open: opennessFrom(environment['BLOCKBELL_NETWORK']),
    names: namesFrom(environment['BLOCKBELL_NAMES']),
    dataFolder: resolve(textOr(environment['DATA_DIR'], join(ROOT, 'data'))),
    example: textOr(environment['BLOCKBELL_EXAMPLE'], 'demo'),
    faults: faultsFrom(environment['BLOCKBELL_FAULTS']),
    planning: planningFrom(environment['BLOCKBELL_PLANNING']),
    recordings: {
      sessions: countFrom(environment, 'BLOCKBELL_RECORDINGS', 100),
      megabytes: countFrom(environment, 'BLOCKBELL_RECORDINGS_MB', 1000),
    },
  };
}

const DEFAULT_PORT = 4170;

function portFrom(text: string | undefined): number {
  if (text === undefined || text.trim() === '') return DEFAULT_PORT;
  const port = Number(text);
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    throw new Error(`PORT is “${text}”; it must be a whole number from 0 to 65535.`);
  return port;
}

function countFrom(environment: NodeJS.ProcessEnv, name: string, otherwise: number): number {
  const text = textOr(environment[name], String(otherwise));
  if (/^[1-9]\d{0,8}$/.test(text)) return Number(text);
  throw new Error(`${name} is “${text}”; it must be a whole number from 1.`);
}

function opennessFrom(text: string | undefined): boolean {
  const word = textOr(text, 'closed');
  if (word === 'open' || word === 'closed') return word === 'open';
  throw new Error(`BLOCKBELL_NETWORK is “${word}”; it must be open or closed.`);
}

function planningFrom(text: string | undefined): boolean {
  const word = textOr(text, 'on');
  if (word === 'on' || word === 'off') return word === 'on';
  throw new Error(`BLOCKBELL_PLANNING is “${word}”; it must be on or off.`);
}

function namesFrom(text: string | undefined): string[] {
  const names = textOr(text, '')
    .split(',')
    .map((name) => name.trim())
    .filter((name) => name !== '');
  const wrong = names.find(
    (name) => isIP(name) === 0 && !/^[a-z\d]([a-z\d.-]*[a-z\d])?$/i.test(name),
  );
  if (wrong === undefined) return names;
  throw new Error(
    `BLOCKBELL_NAMES holds “${wrong}”; it must be host names or addresses without port, with commas between.`,
  );
}

function faultsFrom(text: string | undefined): string | null {
  const path = textOr(text, '');
  return path === '' ? null : resolve(path);
}

const textOr = (text: string | undefined, otherwise: string): string =>
  text === undefined || text.trim() === '' ? otherwise : text.trim();

/** Token of the settings for injection. */
export const SETTINGS = Symbol('settings');
