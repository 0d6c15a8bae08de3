import { readFileSync } from 'node:fs';
import { generateRailway } from '@blockbell/simulation';
import { expect, test } from 'vitest';
import { beginSession } from '../support/drive-session.mjs';
import { keyboard, mouse } from './support/hands.js';
import { RUN_CONTROLS, unknownAmong } from './support/run-controls.js';
import { roundOfPictures, roundOfTrack, roundOfTrain } from './support/run-round-inspector.js';
import {
  roundOfHeader,
  roundOfLineUp,
  roundOfSession,
  roundOfTheEnd,
  type Round,
} from './support/run-round.js';
import { DESKTOP, TABLET, useStage } from './support/stage.js';

const stage = useStage();

const DEMO = { example: 'demo' };
const GENERATED = {
  files: generateRailway({
    seed: 5_275,
    sections: 160,
    trains: 6,
    services: 24,
    singleLineShare: 0.4,
  }),
};

/** Hands, size and railway each with each other; both schemes with both hands and both sizes. */
const WAYS = [
  { with: 'mouse', at: 'desktop', in: 'light', on: 'demo' },
  { with: 'mouse', at: 'tablet', in: 'dark', on: 'generated' },
  { with: 'keyboard', at: 'desktop', in: 'dark', on: 'generated' },
  { with: 'keyboard', at: 'tablet', in: 'light', on: 'demo' },
] as const;

/** By control: every hand, size, scheme and railway it was driven with. */
const ledger = new Map<string, Set<string>>();

test.each(WAYS)('every control by $with, $at, $in, $on: driven, and none unknown', async (way) => {
  const { address } = stage.server;
  await beginSession(address, way.on === 'demo' ? DEMO : GENERATED);
  const board = await stage.board({ viewport: way.at === 'desktop' ? DESKTOP : TABLET });
  const round: Round = {
    board,
    hands: way.with === 'mouse' ? mouse : keyboard,
    address,
    colorScheme: way.in,
    seen: new Set(),
    driven: new Set(),
  };
  await roundOfHeader(round);
  await roundOfLineUp(round);
  await roundOfSession(round);
  await roundOfPictures(round);
  await roundOfTrain(round);
  await roundOfTrack(round);
  await roundOfTheEnd(round);
  expect(unknownAmong([...round.seen])).toEqual([]);
  for (const control of round.driven) {
    const values = ledger.get(control) ?? new Set();
    ledger.set(control, values);
    for (const value of Object.values(way)) values.add(value);
  }
});

test('each control of the table that is driven here was, with each hand, size, scheme and railway', () => {
  const all = [...new Set(WAYS.flatMap((way) => Object.values<string>(way)))];
  const missing = RUN_CONTROLS.flatMap(({ control, drivenBy }) => {
    if (drivenBy !== 'run-controls') return [];
    const never = all.filter((value) => !ledger.get(control)?.has(value));
    return never.length === 0 ? [] : [`${control}: not with ${never.join(', ')}`];
  });
  expect(missing).toEqual([]);
});

test('the docs’ table lists the same controls', () => {
  const docs = readFileSync(new URL('../../docs/board-controls.md', import.meta.url), 'utf8');
  const rows = [...docs.matchAll(/^\| ([^|]+?) +\| `([\w-]+)\.test\.ts` /gm)];
  expect(rows.map(([, control, file]) => [control, file])).toEqual(
    RUN_CONTROLS.map(({ control, drivenBy }) => [control, drivenBy]),
  );
});
