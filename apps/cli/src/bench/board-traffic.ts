import { EVENTS } from '@blockbell/contract';
import { Rehearsal, ScriptedDispatcher, type RehearsalSetup } from '@blockbell/rehearsal';
import { DELTA_INTERVAL, REFRESH_INTERVAL } from '@blockbell/server/session-parts';
import { FedSession } from './fed-session.js';
import { Latencies } from './latencies.js';
import { numberText, type Benchmark } from './report.js';
import { demoSubject, largeSubject, MOST_TRAINS, SECTIONS } from './subjects.js';

const SECOND = 1000;
const MINUTE = 60_000;
/** Bytes of a frame's own head on the socket, for messages below 64 KiB. */
const FRAME_HEAD = 4;

export const boardTraffic: Benchmark = {
  name: 'board',
  measure({ quick, tell }) {
    const minutes = quick ? 2 : 10;
    tell('what a board is told of the demo');
    const demo = traffic(demoSubject(), minutes);
    tell(`what a board is told of ${MOST_TRAINS} trains`);
    const large = traffic(largeSubject(), minutes);
    return {
      name: 'board',
      title: 'Bytes to a board',
      about:
        `Deltas as the server’s feed makes them every ${DELTA_INTERVAL} ms and as they go on the socket, uncompressed, over ${minutes} ` +
        'minutes at ×1 from the start of the timetable. The snapshot is what a board gets once, when it connects.',
      columns: ['railway', 'mean kB/s', 'p99 kB/s', 'worst s, kB', 'deltas/s', 'snapshot kB'],
      rows: [
        row('demo, 16 trains', demo),
        row(`${numberText(SECTIONS)} sections, ${MOST_TRAINS} trains`, large),
      ],
      figures: [
        {
          what: `mean to a board with ${MOST_TRAINS} trains`,
          value: large.seconds.mean / 1000,
          unit: 'kB/s',
          target: { most: 20 },
        },
      ],
    };
  },
};

interface Traffic {
  /** Bytes in each second. */
  readonly seconds: ReturnType<Latencies['summary']>;
  readonly deltasASecond: number;
  readonly snapshot: number;
}

function traffic(subject: RehearsalSetup, minutes: number): Traffic {
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
  const snapshot = bytesOf(EVENTS.snapshot, session.feed.snapshot());

  const seconds = new Latencies();
  const end = rehearsal.now + minutes * MINUTE;
  let deltas = 0;
  while (rehearsal.now < end) {
    let bytes = 0;
    const second = rehearsal.now + SECOND;
    while (rehearsal.now < second) {
      rehearsal.runTo(rehearsal.now + DELTA_INTERVAL);
      if (rehearsal.now % REFRESH_INTERVAL === 0) session.feed.noteAllTrains();
      const delta = session.feed.takeDelta();
      if (delta === null) continue;
      deltas++;
      bytes += bytesOf(EVENTS.delta, delta);
    }
    seconds.add(bytes);
    dispatcher.look();
  }
  return { seconds: seconds.summary(), deltasASecond: deltas / (minutes * 60), snapshot };
}

/** Bytes of an event on the socket: its packet type, name and JSON. */
const bytesOf = (event: string, message: unknown): number =>
  Buffer.byteLength(`42${JSON.stringify([event, message])}`) + FRAME_HEAD;

function row(label: string, { seconds, deltasASecond, snapshot }: Traffic): string[] {
  const { mean, p99, max } = seconds;
  return [
    label,
    ...[mean / 1000, p99 / 1000, max / 1000, deltasASecond, snapshot / 1000].map(numberText),
  ];
}
