import { InvalidArgumentError } from 'commander';

/** Reads an option that is a whole number of 32 bits. */
export function wholeNumber(text: string): number {
  const value = Number(text);
  if (/^\d+$/.test(text) && value <= 0xffff_ffff) return value;
  throw new InvalidArgumentError('It must be a whole number from 0 to 4294967295.');
}
