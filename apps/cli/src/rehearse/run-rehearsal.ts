import { performance } from 'node:perf_hooks';
import { setImmediate } from 'node:timers/promises';
import { runSession, type SessionReport } from '@blockbell/rehearsal';
import type { Fault } from '@blockbell/simulation';
import type { JournalFile } from '../journal/journal-file.js';
import { Recorder } from '../journal/recorder.js';
import type { SessionFiles } from '../session-files.js';
import type { Terminal } from '../terminal.js';
import { programVersion } from '../version.js';
import { multiple, progressText, spanText } from './report-text.js';

export interface RehearsalRequest {
  readonly files: SessionFiles;
  readonly seed: number;
  readonly faults: readonly Fault[];
  /** Whether to write a journal. */
  readonly record: boolean;
}

export interface RehearsalResult {
  readonly report: SessionReport;
  /** Null where none was asked for. */
  readonly journal: JournalFile | null;
}

/**
 * Rehearses a whole session, showing how far it has come; `terminal` null: silently. An interrupt (Ctrl-C) breaks it off:
 * what was run until then is reported.
 */
export async function runRehearsal(
  { files, seed, faults, record }: RehearsalRequest,
  terminal: Terminal | null,
): Promise<RehearsalResult> {
  const { layout, stock, timetable } = files;
  const name = `${layout.id} seed ${seed}`;
  const recorder = record ? new Recorder(name) : null;
  const began = performance.now();
  const elapsed = (): number => performance.now() - began;

  const session = runSession({ layout, stock, timetable, seed, faults }, (_, input, { effects }) =>
    recorder?.record(input, effects),
  );
  let interrupted = false;
  const interrupt = (): void => {
    interrupted = true;
  };
  process.once('SIGINT', interrupt);
  let next = session.next();
  for (; next.done !== true; next = session.next(interrupted)) {
    terminal?.progress(progressText(next.value, elapsed()));
    await setImmediate();
  }
  process.off('SIGINT', interrupt);
  const report = next.value;
  terminal?.err(
    `Rehearsed ${spanText(report.duration)} in ${(elapsed() / 1000).toFixed(1)} s, ` +
      `${multiple(report.duration, elapsed())} times real time.`,
  );
  if (recorder === null) return { report, journal: null };
  const heading = {
    kind: 'blockbell-journal',
    version: 1,
    program: programVersion(),
    name,
    layout,
    stock,
    timetable,
  } as const;
  return { report, journal: { heading, batches: recorder.batches() } };
}
