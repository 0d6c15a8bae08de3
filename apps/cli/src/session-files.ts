import { checkFiles, type CheckedFiles, type NamedText } from '@blockbell/contract';
import { exampleFiles } from '@blockbell/examples';
import { readText } from './read-text.js';

/** The demo's files, for whoever names none. */
export function demoTexts(): NamedText[] {
  const { layout, stock, timetable } = exampleFiles('demo');
  return [
    { name: 'demo layout', text: layout },
    { name: 'demo stock', text: stock },
    { name: 'demo timetable', text: timetable },
  ];
}

/** Reads and checks the named files together; the demo's when none is named. */
export function checkedFiles(paths: readonly string[]): CheckedFiles {
  const texts = paths.map((path) => ({ name: path, text: readText(path) }));
  return checkFiles(texts.length > 0 ? texts : demoTexts());
}
