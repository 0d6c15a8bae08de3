import type { Fault } from '@blockbell/railway';

/** A fault on two lines: where and what, then its mend. */
export const faultText = ({ file, place, text, mend }: Fault): string =>
  `${file === undefined ? '' : `${file}: `}${place}: ${text}\n  mend: ${mend}`;

/** `1 fault`, `2 faults`. */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;
