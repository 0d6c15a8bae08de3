import { readableJson } from '@blockbell/examples';
import { mendTimetable, USUAL_MENDING } from '@blockbell/timetabling';
import { EXIT, type ExitCode } from '../exit-code.js';
import { counted, faultText } from '../fault-text.js';
import type { Terminal } from '../terminal.js';
import { writeText } from '../text-files.js';
import { findingsText } from './findings-text.js';
import { readSoundTimetable, type NamedFiles } from './read-files.js';

export interface MendOptions extends NamedFiles {
  /** Fast-clock minutes. */
  readonly earlier?: number;
  readonly later?: number;
  readonly out?: string;
  readonly json?: boolean;
}

/** Moves times so that nothing is found any more, shows what it moved, and writes the timetable where it is told to. */
export function mend(options: MendOptions, terminal: Terminal): ExitCode {
  const {
    earlier = USUAL_MENDING.earlier,
    later = USUAL_MENDING.later,
    out,
    json = false,
    ...named
  } = options;
  const read = readSoundTimetable(named);
  if (!read.ok) {
    for (const fault of read.faults) terminal.err(faultText(fault));
    return EXIT.fault;
  }
  const { layout, stock, timetable } = read.files;
  const mended = mendTimetable(layout, stock, timetable, {
    ...USUAL_MENDING,
    earlier,
    later,
  });
  if (!mended.ok) {
    if (json) terminal.out(JSON.stringify(mended, null, 2));
    else terminal.out(findingsText(mended.findings));
    terminal.err(`${mended.text} ${mended.mend}`);
    return EXIT.fault;
  }
  const { changes, minutes, weighted, least } = mended;
  const stationOf = ({ service, call }: (typeof changes)[number]): string => {
    const { calls } = timetable.services.find(({ id }) => id === service)!;
    const station = calls[call]!.station;
    return layout.stations.find(({ id }) => id === station)?.name ?? station;
  };
  if (json) terminal.out(JSON.stringify({ ok: true, changes, minutes, weighted, least }, null, 2));
  else
    for (const change of changes) {
      const { service, what, from, to } = change;
      terminal.out(`${service} ${what}s ${stationOf(change)} ${to} instead of ${from}`);
    }
  terminal.err(
    changes.length === 0
      ? 'Nothing to mend.'
      : `${counted(changes.length, 'time')} moved by ${minutes} min in all, ${weighted} with the weights of the trains${nearness(weighted, least)}.`,
  );
  if (out !== undefined) {
    writeText(out, readableJson(mended.timetable));
    terminal.err(`Written to ${out}.`);
  }
  return EXIT.ok;
}

/** How near a change is to the least there is. */
function nearness(weighted: number, least: number | null): string {
  if (least === null) return '; how near that is to the least is not known';
  if (least === weighted) return ', proven the least by whole minutes';
  return `, at most ${weighted - least} above the least by whole minutes`;
}
