import { readFileSync } from 'node:fs';
import { readScriptedFaults, type ScriptedFault } from '@blockbell/contract';
import { refusal, type Refusal, type World } from '@blockbell/railway';

export type ScriptedFaults =
  | { readonly ok: true; readonly faults: readonly ScriptedFault[] }
  | { readonly ok: false; readonly refusal: Refusal };

/**
 * The faults that a file scripts for the session on `world`; none without a file. Refused when the file can't be
 * read, is faulty, or names what the session's layout and stock don't have.
 */
export function scriptedFaults(path: string | null, { layout, stock }: World): ScriptedFaults {
  if (path === null) return { ok: true, faults: [] };
  const text = textOf(path);
  if (text === null) return refuse(path, 'the file can’t be read; see to its name and rights');
  const read = readScriptedFaults(text, layout, stock);
  if (read.ok) return read;
  return refuse(path, read.wrong.map(({ place, text: what }) => `${place}: ${what}`).join('; '));
}

function textOf(path: string): string | null {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return null;
  }
}

const refuse = (path: string, why: string): ScriptedFaults => ({
  ok: false,
  refusal: refusal(
    'faults',
    `The scripted faults of ${path} can’t happen in this session: ${why}.`,
  ),
});
