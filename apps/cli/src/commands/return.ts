import { performance } from 'node:perf_hooks';
import { setImmediate } from 'node:timers/promises';
import { compileWorld } from '@blockbell/railway';
import { runSession, type SessionReport } from '@blockbell/rehearsal';
import { tellReturn, type ReturnTold } from '@blockbell/staging';
import { EXIT, type ExitCode } from '../exit-code.js';
import { counted, faultText } from '../fault-text.js';
import { readFaults, withFaultOptions, type FaultOptions } from '../rehearse/fault-options.js';
import { progressText, spanText } from '../rehearse/report-text.js';
import type { AddCommand } from '../run-cli.js';
import {
  loadFiles,
  withFileOptions,
  type FileOptions,
  type SessionFiles,
} from '../session-files.js';
import type { Terminal } from '../terminal.js';
import { wholeNumber } from '../whole-number.js';

interface ReturnOptions extends FileOptions, FaultOptions {
  readonly seed: number;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** `blockbell return`: how the trains come back at a session's end to where it began, planned and rehearsed. */
export const addReturn: AddCommand = (program, terminal, done) => {
  const command = withFileOptions(program.command('return'))
    .description(
      'Rehearse a session to its end, plan how every train returns to where it began, and carry that out.',
    )
    .option('--seed <number>', 'chance of the simulated layout', wholeNumber, 1);
  withFaultOptions(command)
    .option('--json', 'print the plans, and where the trains stand in the end, as JSON')
    .option('--quiet', 'show no progress')
    .action(async (options: ReturnOptions) => done(await returnToStart(options, terminal)));
};

async function returnToStart(options: ReturnOptions, terminal: Terminal): Promise<ExitCode> {
  const loaded = loadFiles(options);
  if (!loaded.ok) return refuse(terminal, loaded.faults.map(faultText));
  const { files } = loaded;
  const read = readFaults(options, files.compiled);
  if (!read.ok) return refuse(terminal, read.lines);
  const { layout, stock, timetable } = files;
  const began = performance.now();
  const session = runSession({
    layout,
    stock,
    timetable,
    seed: options.seed,
    faults: read.faults,
    returns: true,
  });
  let next = session.next();
  for (; next.done !== true; next = session.next()) {
    if (options.quiet !== true)
      terminal.progress(progressText(next.value, performance.now() - began));
    await setImmediate();
  }
  const report = next.value;
  const world = compileWorld(layout, stock, timetable, files.compiled.layout);
  const plans = report.returns.map((run) => tellReturn(world, run));
  const elsewhere = standElsewhere(files, report);
  const { ended, nextLineUp, violations } = report;
  const places = { ended, elsewhere, places: nextLineUp, violations: violations.broken.length };
  terminal.out(
    options.json === true
      ? JSON.stringify({ plans, ...places }, null, 2)
      : [...plans.flatMap((plan, at) => [...planLines(plan, at)]), endLine(files, elsewhere)].join(
          '\n',
        ),
  );
  const isGood = ended && elsewhere.length === 0 && violations.broken.length === 0;
  return isGood ? EXIT.ok : EXIT.fault;
}

/** Labels of the trains that do not stand where the session had them at its beginning, front the same way. */
function standElsewhere(
  { stock, timetable }: SessionFiles,
  { nextLineUp }: SessionReport,
): string[] {
  const now = new Map(
    nextLineUp.map(({ train, block, towards }) => [train, `${block} ${towards}`]),
  );
  const before = new Map<string, string>(
    timetable.storedPlaces.map(({ train, block, towards }) => [train, `${block} ${towards}`]),
  );
  return stock.trains.filter(({ id }) => now.get(id) !== before.get(id)).map(({ label }) => label);
}

function* planLines(told: ReturnTold, at: number): Generator<string> {
  const { moves, left, there, time, isBest } = told;
  const again = at === 0 ? 'Return to start' : 'Return to start, planned again';
  const fewest = isBest ? '' : '; it is not ruled out that fewer do';
  yield `${again}: ${counted(moves.length, 'move')}, about ${spanText(time)}, ${counted(there.length, 'train')} there already${fewest}`;
  for (const [number, { train, text, isHome, time, stage, why }] of moves.entries()) {
    const purpose = isHome ? 'where it began' : 'for the time being';
    const trouble =
      stage === 'made' ? '' : `: ${stage.replace('-', ' ')}${why === null ? '' : `, ${why}`}`;
    yield `  ${String(number + 1).padStart(3)}  ${train} ${text}, ${purpose}, ${spanText(time)}${trouble}`;
  }
  for (const { why, mend } of left) yield `  For a person: ${why} ${mend}`;
}

function endLine({ stock }: SessionFiles, elsewhere: readonly string[]): string {
  const all = stock.trains.length;
  return elsewhere.length === 0
    ? `All ${counted(all, 'train')} stand as the session began.`
    : `${all - elsewhere.length} of ${counted(all, 'train')} stand as the session began; not ${elsewhere.join(', ')}.`;
}

function refuse(terminal: Terminal, lines: readonly string[]): ExitCode {
  for (const line of lines) terminal.err(line);
  return EXIT.fault;
}
