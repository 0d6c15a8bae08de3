import {
  deltaMessage,
  recordingIndex,
  recordingPart,
  snapshotMessage,
  type RecordingPart,
} from '@blockbell/contract';
import { isWorkDone, passSeconds, Rehearsal } from '@blockbell/rehearsal';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import {
  mergeRows,
  noRows,
  replaceRows,
  type LiveRows,
} from '../../apps/board/src/live/live-rows.js';
import { PartPlayer } from '../../apps/board/src/review/part-player.js';
import { Timeline } from '../../apps/board/src/review/timeline.js';
import { FedSession } from '../../apps/cli/src/bench/fed-session.js';
import type { RecordingStore } from '../../apps/server/src/recording/recording-store.js';
import { SessionRecorder } from '../../apps/server/src/recording/session-recorder.js';
import { openArchive } from '../../apps/server/src/testing/open-archive.js';
import { temporaryFolder } from '../../apps/server/src/testing/temporary-folder.js';
import { Chance } from '../support/chance.js';
import { exampleRailway } from '../support/railways.js';

const MOMENTS = 100;
/** Physical ms between deltas: the server's ten a second at a pace of 20. */
const LOOK = 2_000;
const PACE = 20;

/** What a board showed live at a moment, and until the next delta. */
interface Seen {
  readonly at: number;
  readonly text: string;
}

/** Everything that a board knows, as text; rows by their numbers, not in the order in which they came. */
function pictureOf({ session, lineUp, strangers, log, ...rows }: LiveRows): string {
  const { sections, elements, signals, trains, alarms, runs } = rows;
  const tables = [sections, elements, signals, trains, alarms, runs].map((table) =>
    [...table.keys()].toSorted((p, q) => p - q).map((number) => table.get(number)),
  );
  return JSON.stringify([session, ...tables, lineUp, strangers, log]);
}

/** A message as it comes to a board. */
const sent = (message: unknown): unknown => JSON.parse(JSON.stringify(message));

/** Records the demo’s whole session and what a board shows of it live; gives 100 of the moments shown, drawn with the seed and in no order of time. */
async function record(store: RecordingStore, session: number, chance: Chance): Promise<Seen[]> {
  const fault = { kind: 'stall', at: 240_000, train: 0, duration: 60_000 } as const;
  const rehearsal = new Rehearsal({ ...exampleRailway('demo'), seed: 1, faults: [fault] });
  const fed = new FedSession(rehearsal.world, rehearsal.state, () => rehearsal.now, null);
  rehearsal.observe((_, input, { effects, changes }) => fed.stepped(input, effects, changes));
  const failed: string[] = [];
  const recorder = new SessionRecorder({
    sink: store,
    observer: { recordingFailing: (why) => failed.push(why), recordingMended: () => {} },
    session,
    run: 1,
    wall: () => rehearsal.now / PACE,
  });
  const live = noRows();
  const snapshot = () => fed.feed.snapshot();
  const kept: Seen[] = [];
  let looks = 0;
  fed.feed.takeDelta();
  replaceRows(live, snapshotMessage.parse(sent(snapshot())));
  for (const _ of passSeconds(rehearsal, Infinity)) {
    if (isWorkDone(rehearsal.state)) rehearsal.command('test', { kind: 'end-session' });
    if (rehearsal.now % LOOK !== 0) continue;
    if (looks % 50 === 0) fed.feed.noteAllTrains();
    const delta = fed.feed.takeDelta();
    if (delta !== null) mergeRows(live, deltaMessage.parse(sent(delta)).rows);
    recorder.tick(delta, snapshot);
    const place = looks < MOMENTS ? looks : chance.below(looks + 1);
    if (place < MOMENTS) kept[place] = { at: rehearsal.now, text: pictureOf(live) };
    looks++;
  }
  expect(await recorder.close(fed.feed.takeDelta(), snapshot)).toBe(true);
  expect(failed).toEqual([]);
  expect(rehearsal.state.session.phase.kind).toBe('ended');
  return kept;
}

it('at 100 random moments of the demo’s whole session, in any order, the picture is byte for byte that of the live board', async () => {
  const folder = temporaryFolder();
  const { archive, recordings, session, close } = await openArchive(
    join(folder.path, 'test.sqlite'),
  );
  try {
    const chance = new Chance(6);
    const seen = await record(recordings, session, chance);
    const index = recordingIndex.parse(await archive.index(session));
    const timeline = new Timeline(index);
    const [span] = index.spans;
    expect(index.spans).toHaveLength(1);
    expect(index.parts.length).toBeGreaterThan(10);
    expect(index.gaps).toEqual([]);
    const fetched = new Map<number, RecordingPart>();
    const rows = noRows();
    const player = new PartPlayer(rows);
    expect(seen).toHaveLength(MOMENTS);
    expect(new Set(seen.map(({ text }) => text)).size).toBeGreaterThan(MOMENTS / 2);
    for (const { at, text } of seen) {
      const within = Math.max(span!.from, at) + chance.below(LOOK);
      const moment = timeline.momentAt(within - span!.from)!;
      const part =
        fetched.get(moment.part) ??
        recordingPart.parse(JSON.parse(await archive.part(session, moment.part)));
      fetched.set(moment.part, part);
      player.show(part, moment.at);
      expect(pictureOf(rows) === text, `at ${within} ms`).toBe(true);
    }
  } finally {
    await close();
    folder.remove();
  }
});
