import { generateRailway } from '@blockbell/simulation';
import { figuresText, machineText } from '../bench/figures-text.js';
import { measureSteps, type Subject } from '../bench/measure-steps.js';
import { EXIT, type ExitCode } from '../exit-code.js';
import { faultText } from '../fault-text.js';
import type { AddCommand } from '../run-cli.js';
import { loadFiles, withFileOptions, type FileOptions } from '../session-files.js';
import type { Terminal } from '../terminal.js';
import { wholeNumber } from '../whole-number.js';

/** The large generated railway: as many sections as the generator makes, two fifths of the line single at least. */
const LARGE = { seed: 1, sections: 2040, trains: 60, singleLineShare: 0.4, services: 240 };

interface BenchOptions extends FileOptions {
  readonly minutes: number;
  readonly json?: boolean;
}

/** `blockbell bench`: what an engine step costs on this machine, and how fast rehearsals run. */
export const addBench: AddCommand = (program, terminal, done) => {
  withFileOptions(program.command('bench'))
    .description(
      'Measure the engine on this machine: on the demo and on a large railway, if none is named.',
    )
    .option('--minutes <number>', 'how much of the large railway’s session is run', wholeNumber, 10)
    .option('--json', 'print the figures as JSON')
    .action((options: BenchOptions) => done(bench(options, terminal)));
};

function bench(options: BenchOptions, terminal: Terminal): ExitCode {
  const loaded = loadFiles(options);
  if (!loaded.ok) {
    for (const fault of loaded.faults) terminal.err(faultText(fault));
    return EXIT.fault;
  }
  const { layout, stock, timetable } = loaded.files;
  const subjects: Subject[] = [
    { name: layout.name, layout, stock, timetable, seed: 1, minutes: null },
  ];
  if (options.layout === undefined && options.minutes > 0) {
    const large = generateRailway(LARGE);
    subjects.push({ name: large.layout.name, ...large, seed: 1, minutes: options.minutes });
  }
  const figures = subjects.map((subject) => {
    terminal.progress(`measuring ${subject.name} …`);
    return measureSteps(subject);
  });
  terminal.out(
    options.json === true
      ? JSON.stringify({ machine: machineText(), figures }, null, 2)
      : [machineText(), ...figures.map(figuresText)].join('\n\n'),
  );
  return EXIT.ok;
}
