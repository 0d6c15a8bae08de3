import { faultText } from '../fault-text.js';
import { soundFiles, type SessionFiles } from '../session-files.js';
import type { Terminal } from '../terminal.js';
import { readJournal, type JournalFile, type JournalHeading } from './journal-file.js';

/** Texts of a session's three files. */
interface KeptFiles {
  readonly layout: string;
  readonly stock: string;
  readonly timetable: string;
}

/** The files that were kept with a session, checked; null when they have faults, which are told. `where`: where they are kept. */
export function keptFiles(
  files: KeptFiles,
  where: string,
  terminal: Terminal,
): SessionFiles | null {
  const sound = soundFiles(
    (['layout', 'stock', 'timetable'] as const).map((part) => ({
      name: `${part} ${where}`,
      text: files[part],
    })),
  );
  if (sound.ok) return sound.files;
  for (const fault of sound.faults) terminal.err(faultText(fault));
  return null;
}

/** A journal that can be run; null when it or its files have faults, which are told. */
export function soundJournal(text: string, name: string, terminal: Terminal): JournalFile | null {
  const journal = readJournal(text);
  if ('line' in journal) {
    terminal.err(`${name}: line ${journal.line}: ${journal.text}`);
    return null;
  }
  return keptFiles(textsOf(journal.heading), 'in the journal', terminal) === null ? null : journal;
}

const textsOf = ({ layout, stock, timetable }: JournalHeading): KeptFiles => ({
  layout: JSON.stringify(layout),
  stock: JSON.stringify(stock),
  timetable: JSON.stringify(timetable),
});
