import type { BenchmarkName } from './benchmark-names.js';

/** A figure that must be reached. */
export interface Figure {
  readonly what: string;
  readonly value: number;
  readonly unit: string;
  /** Whether it must lie below (`most`) or above (`least`) the target to meet it; both may be reached exactly. */
  readonly target: { readonly most: number } | { readonly least: number };
}

/** What one benchmark found. */
export interface Report {
  readonly name: string;
  readonly title: string;
  /** What was measured and how, in whole sentences. */
  readonly about: string;
  /** The first column names the row; the others hold numbers as text. */
  readonly columns: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly figures: readonly Figure[];
}

export interface Scope {
  /** Shorter runs, for a look; the figures that count come from whole ones. */
  readonly quick: boolean;
  /** Says what is being measured now. */
  readonly tell: (text: string) => void;
}

export interface Benchmark {
  readonly name: BenchmarkName;
  measure(scope: Scope): Report | Promise<Report>;
}

export const isMet = ({ value, target }: Figure): boolean =>
  'most' in target ? value <= target.most : value >= target.least;

/** Three significant digits; large numbers whole, in groups of three digits. */
export function numberText(value: number): string {
  if (value === 0) return '0';
  if (Math.abs(value) < 100) return String(Number(value.toPrecision(3)));
  return String(Math.round(value)).replace(/\B(?=(\d{3})+$)/g, ',');
}
