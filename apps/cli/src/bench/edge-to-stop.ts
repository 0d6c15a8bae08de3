import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Latencies } from './latencies.js';
import { LiveSession } from './live-session.js';
import { numberText, type Benchmark } from './report.js';
import { largeSubject, MOST_TRAINS, SECTIONS } from './subjects.js';

const SECOND = 1000;

export const edgeToStop: Benchmark = {
  name: 'stop',
  async measure({ quick, tell }) {
    const seconds = quick ? 30 : 600;
    tell(`the session of ${MOST_TRAINS} trains begins, in real time`);
    const folder = mkdtempSync(join(tmpdir(), 'blockbell-bench-'));
    const session = await LiveSession.open(largeSubject(), join(folder, 'journal.sqlite'));
    try {
      await session.bringToRun();
      tell(`edges to stop commands, ${seconds} s in real time`);
      const edges = await session.measure(seconds * SECOND);
      const total = new Latencies();
      const parts = { heard: new Latencies(), answered: new Latencies() };
      for (const { due, heard, stopped } of edges) {
        total.add(stopped - due);
        parts.heard.add(heard - due);
        parts.answered.add(stopped - heard);
      }
      const { p999 } = total.summary();
      return {
        name: 'stop',
        title: 'Detector edge to stop command',
        about:
          `Milliseconds from the moment the layout says that a section is occupied to the stop command it causes, device port to ` +
          `port, over ${seconds} s at ×1 on ${numberText(SECTIONS)} sections with ${MOST_TRAINS} trains: the server’s loop, journal and feed of ` +
          'one board in one thread with the simulated layout, grant searches going on. Twice a second something appears on the ' +
          `track ahead of a moving train; it is let go on when it stands. ${session.searchText()} ${session.worstText()}`,
        columns: ['part', 'count', 'mean', 'p50', 'p99', 'p99.9', 'max'],
        rows: [
          row('until the port heard it', parts.heard),
          row('from there to the command', parts.answered),
          row('edge to stop command', total),
        ],
        figures: [
          {
            what: 'p99.9 of edge to stop command',
            value: p999,
            unit: 'ms',
            target: { most: 20 },
          },
        ],
      };
    } finally {
      await session.close();
      rmSync(folder, { recursive: true });
    }
  },
};

function row(label: string, latencies: Latencies): string[] {
  const { count, mean, p50, p99, p999, max } = latencies.summary();
  return [label, ...[count, mean, p50, p99, p999, max].map(numberText)];
}
