import { expect, test } from 'vitest';
import { beginSession, runSession } from '../support/drive-session.mjs';
import { labelsOnTrack, overlaps } from './support/boxes.js';
import { expectMoved, expectPhase } from './support/expectations.js';
import { useStage } from './support/stage.js';
import { UNSEEN_TRAINS, unseenRailway } from './support/unseen-railway.js';

const stage = useStage();

const RAILWAYS = [
  { name: 'the passing loop', on: { example: 'passing-loop' }, trains: 2 },
  {
    name: 'a generated railway of 150 sections',
    on: { files: unseenRailway },
    trains: UNSEEN_TRAINS,
  },
];

test.each(RAILWAYS)(
  '$name, begun under an open board, is drawn and runs',
  async ({ on, trains }) => {
    await beginSession(stage.server.address);
    const board = await stage.board();
    await expectPhase(board, 'set up');
    await expect.poll(() => board.labels.count()).toBe(16);

    await beginSession(stage.server.address, on);
    await expect.poll(() => board.labels.count()).toBe(trains);
    expect(overlaps(await labelsOnTrack(board.page))).toEqual([]);
    const blocks = board.diagram.getByText(/^Signal at the end of/);
    expect(await blocks.count()).toBeGreaterThan(trains);

    await runSession(stage.server.address, 20);
    await expectPhase(board, 'running');
    for (let seen = 0; seen < 4; seen++) {
      await expectMoved(board, await board.places(), 1);
      expect(overlaps(await labelsOnTrack(board.page))).toEqual([]);
    }
  },
);
