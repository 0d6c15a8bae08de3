import { SessionReplay } from '@blockbell/journal';
import { exampleFiles, type ExampleName } from '@blockbell/examples';
import type { SessionView } from '@blockbell/contract';
import type { Command, World } from '@blockbell/railway';
import { SimulatedPort } from '../devices/simulated/simulated-port.js';
import { checkTogether } from '../files/check-files.js';
import { RunningSession } from '../session/running-session.js';
import type { RecordingPiece } from '../recording/recording-piece.entity.js';
import type { JournalRows } from '../storage/journal-store.js';

/** The world of an example; the small one unless another is asked for. */
export function smallWorld(example: ExampleName = 'passing-loop'): World {
  const checked = checkTogether(exampleFiles(example));
  if ('faults' in checked) throw new Error(JSON.stringify(checked.faults));
  return checked.files.world;
}

export interface SmallSession {
  readonly running: RunningSession;
  /** What went to the journal. */
  readonly written: JournalRows[];
  /** What was recorded. */
  readonly recorded: RecordingPiece[];
  /** Who drives which train. */
  crews: SessionView['crews'];
  /** How often the session came to its end. */
  endings: number;
  /** Makes writing fail for this reason; null: it works. */
  diskFault: string | null;
}

/** An example on a simulated layout, with a journal kept in memory. Time is the (faked) wall clock's. */
export function smallSession(seed = 1, example?: ExampleName): SmallSession {
  const world = smallWorld(example);
  const written: JournalRows[] = [];
  const recorded: RecordingPiece[] = [];
  const session: Omit<SmallSession, 'running'> = {
    written,
    recorded,
    endings: 0,
    diskFault: null,
    crews: [],
  };
  const running = new RunningSession({
    id: 1,
    run: 1,
    name: 'Small session',
    day: 'Monday',
    world,
    state: null,
    earlier: [],
    port: new SimulatedPort(SessionReplay.begin(world, seed, []).simulated),
    journal: {
      write: (rows) => {
        if (session.diskFault !== null) return Promise.reject(new Error(session.diskFault));
        written.push(rows);
        return Promise.resolve();
      },
    },
    recordings: {
      write: (piece) => {
        if (session.diskFault !== null) return Promise.reject(new Error(session.diskFault));
        recorded.push(piece);
        return Promise.resolve();
      },
    },
    wall: () => performance.now(),
    crews: () => session.crews,
    ended: () => {
      session.endings++;
    },
  });
  return Object.assign(session, { running });
}

/** What a dispatcher does to have trains run: power, places confirmed, start. Tries again what must wait. */
export function nextCommandTowardsStart(running: RunningSession): Command | null {
  const { phase } = running.state.session;
  if (phase.kind === 'set-up' || phase.kind === 'powerless') return { kind: 'power-up' };
  if (phase.kind === 'running') return null;
  const asked = running.feed.peek().rows.lineUp?.find(({ status }) => status === 'ask');
  return asked === undefined
    ? { kind: 'start' }
    : { kind: 'confirm-place', train: asked.train, heading: asked.heading };
}
