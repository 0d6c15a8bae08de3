import type { Fault } from '../faults/fault.js';

/** Demands a fault at a place that begins so, with a text that matches; and that it says how to mend it. */
export function expectFault(faults: readonly Fault[], place: string, text: RegExp): void {
  const found = faults.filter((it) => it.place.startsWith(place) && text.test(it.text));
  if (found.length === 0 || found.some((it) => it.mend === '')) {
    throw new Error(`wanted ${place}: ${text}\nfound\n${listed(faults)}`);
  }
}

/** Demands this fault and no other. */
export function expectOnlyFault(faults: readonly Fault[], place: string, text: RegExp): void {
  expectFault(faults, place, text);
  if (faults.length > 1) throw new Error(`wanted one fault, found\n${listed(faults)}`);
}

const listed = (faults: readonly Fault[]): string =>
  faults.map((it) => `${it.place}: ${it.text} (${it.mend})`).join('\n');
