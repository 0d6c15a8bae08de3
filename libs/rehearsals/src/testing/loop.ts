import { checkFiles, readFile } from '@blockbell/contract';
import { exampleFiles } from '@blockbell/examples';
import type { LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import { NO_DISTURBANCES } from '../disturbances/usual.js';
import type { RehearsalPlan } from '../session/rehearse-once.js';

/** The tiny example, without disturbances and without plans. */
export function loopPlan(): RehearsalPlan {
  const { layout, stock, timetable } = exampleFiles('passing-loop');
  return {
    layout: fileOf<LayoutFile>(layout),
    stock: fileOf<StockFile>(stock),
    timetable: fileOf<TimetableFile>(timetable),
    disturbances: NO_DISTURBANCES,
    dispatching: 'booked',
  };
}

/** The tiny example with a timetable of its own; it must be sound. */
export function planWith(change: (timetable: TimetableFile) => unknown): RehearsalPlan {
  const plan = loopPlan();
  const timetable = fileOf<TimetableFile>(JSON.stringify(change(plan.timetable)));
  const texts = [plan.layout, plan.stock, timetable].map((file) => JSON.stringify(file));
  const { faults } = checkFiles(texts.map((text, at) => ({ name: `file ${at}`, text })));
  if (faults.length > 0) throw new Error(faults.map(({ text }) => text).join('\n'));
  return { ...plan, timetable };
}

function fileOf<File>(text: string): File {
  const read = readFile(text);
  if (!read.ok) throw new Error(read.faults.map((fault) => fault.text).join('\n'));
  return read.file as File;
}
