import { readScriptedFaults, type NamedText } from '@blockbell/contract';
import type { Layout, Stock } from '@blockbell/railway';
import type { Fault } from '@blockbell/simulation';
import type { Command } from 'commander';
import { faultText } from '../fault-text.js';
import { readText } from '../text-files.js';
import { faultFromOption, type WrittenFault } from './fault-option.js';

/** How a command names what is wrong with the simulated layout. */
export interface FaultOptions {
  readonly faults?: string;
  readonly fault: readonly WrittenFault[];
}

export const withFaultOptions = (command: Command): Command =>
  command
    .option('--faults <file>', 'scripted faults of the simulated layout')
    .option(
      '--fault <kind@ms:field=value,…>',
      'one scripted fault; as often as wanted',
      (text, before: readonly WrittenFault[]) => [...before, faultFromOption(text)],
      [],
    );

export type ReadFaults =
  | { readonly ok: true; readonly faults: readonly Fault[] }
  | { readonly ok: false; readonly lines: readonly string[] };

/** The faults of the file and those given one by one; or what is wrong with them, a line each. */
export function readFaults(
  options: FaultOptions,
  { layout, stock }: { readonly layout: Layout; readonly stock: Stock },
): ReadFaults {
  const faults: Fault[] = [];
  for (const { name, text } of faultTexts(options)) {
    const read = readScriptedFaults(text, layout, stock);
    if (!read.ok) {
      return { ok: false, lines: read.wrong.map((it) => faultText({ ...it, file: name })) };
    }
    faults.push(...read.faults);
  }
  return { ok: true, faults };
}

/** The file of faults and those given one by one, as files. */
function faultTexts({ faults: path, fault }: FaultOptions): NamedText[] {
  const file = path === undefined ? [] : [{ name: path, text: readText(path) }];
  const written = JSON.stringify({ kind: 'blockbell-faults', version: 1, faults: fault });
  return fault.length === 0 ? file : [...file, { name: '--fault', text: written }];
}
