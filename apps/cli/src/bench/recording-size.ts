import { Rehearsal, ScriptedDispatcher, type RehearsalSetup } from '@blockbell/rehearsal';
import { DELTA_INTERVAL, REFRESH_INTERVAL, SessionRecorder } from '@blockbell/server/session-parts';
import { FedSession } from './fed-session.js';
import { numberText, type Benchmark } from './report.js';
import { demoSubject, largeSubject, MOST_TRAINS, SECTIONS } from './subjects.js';

const SECOND = 1000;
const MINUTE = 60_000;
const HOUR = 60 * MINUTE;

export const recordingSize: Benchmark = {
  name: 'recording',
  async measure({ quick, tell }) {
    const minutes = quick ? 3 : 15;
    tell(`${minutes} minutes of the demo’s recording`);
    const demo = await record(demoSubject(), minutes);
    tell(`${minutes} minutes of a recording with ${MOST_TRAINS} trains`);
    const large = await record(largeSubject(), minutes);
    return {
      name: 'recording',
      title: 'Size of a recording',
      about:
        `What the server records of ${minutes} minutes at ×1 from the start of the timetable, compressed, scaled to an hour of ` +
        'physical time: key frames, one a minute, and the deltas between them in pieces of five seconds.',
      columns: ['per physical hour', 'pieces', 'key frames, MB', 'deltas, MB', 'all, MB'],
      rows: [
        row('demo, 16 trains', demo, minutes),
        row(`${numberText(SECTIONS)} sections, ${MOST_TRAINS} trains`, large, minutes),
      ],
      figures: [],
    };
  },
};

interface Recorded {
  readonly pieces: number;
  readonly keyFrames: number;
  readonly deltas: number;
}

/** Counts and bytes of what is recorded in that time. */
async function record(subject: RehearsalSetup, minutes: number): Promise<Recorded> {
  const rehearsal = new Rehearsal(subject);
  const { world, state } = rehearsal;
  const session = new FedSession(world, state, () => rehearsal.now, null);
  rehearsal.observe((_, input, { effects, changes }) => session.stepped(input, effects, changes));
  const dispatcher = new ScriptedDispatcher(rehearsal);
  while (state.session.phase.kind !== 'running') {
    rehearsal.runTo(rehearsal.now + SECOND);
    dispatcher.look();
  }
  session.feed.takeDelta();
  const recorded = { pieces: 0, keyFrames: 0, deltas: 0 };
  const recorder = new SessionRecorder({
    sink: {
      write: ({ piece, bytes }) => {
        recorded.pieces++;
        recorded[piece === 0 ? 'keyFrames' : 'deltas'] += bytes;
        return Promise.resolve();
      },
    },
    observer: {
      recordingFailing: (why) => {
        throw new Error(`The recording can’t be written: ${why}`);
      },
      recordingMended: () => {},
    },
    session: 1,
    run: 1,
    wall: () => rehearsal.now,
  });
  const snapshot = () => session.feed.snapshot();
  const end = rehearsal.now + minutes * MINUTE;
  while (rehearsal.now < end) {
    rehearsal.runTo(rehearsal.now + DELTA_INTERVAL);
    if (rehearsal.now % REFRESH_INTERVAL === 0) session.feed.noteAllTrains();
    recorder.tick(session.feed.takeDelta(), snapshot);
    if (rehearsal.now % SECOND === 0) dispatcher.look();
  }
  await recorder.close(null, snapshot);
  return recorded;
}

function row(label: string, { pieces, keyFrames, deltas }: Recorded, minutes: number): string[] {
  const hourly = (value: number): string => numberText((value * HOUR) / (minutes * MINUTE));
  return [
    label,
    ...[pieces, keyFrames / 1e6, deltas / 1e6, (keyFrames + deltas) / 1e6].map(hourly),
  ];
}
