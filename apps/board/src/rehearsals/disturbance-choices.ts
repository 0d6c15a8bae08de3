import {
  disturbancesSchema,
  type DisturbancesFile,
  type Distribution,
} from '@blockbell/contract/messages';

/** A kind of disturbance as people choose it. */
export interface DisturbanceChoice {
  readonly kind: DisturbanceKind;
  happens: boolean;
  /** Percent of them that are hit, or how many an hour. */
  rate: number;
  distribution: Distribution;
}

export type DisturbanceKind =
  | 'lateStarts'
  | 'longerCalls'
  | 'slowTrains'
  | 'trainFailures'
  | 'turnoutFailures'
  | 'lostContacts';

interface Words {
  readonly name: string;
  /** What the rate counts. */
  readonly rate: string;
  /** What the distribution is of. */
  readonly spread: string;
  /** Unit of its values. */
  readonly unit: string;
}

export const KINDS: Readonly<Record<DisturbanceKind, Words>> = {
  lateStarts: {
    name: 'Late starts',
    rate: '% of services',
    spread: 'Late by',
    unit: 's of the clock',
  },
  longerCalls: {
    name: 'Longer calls',
    rate: '% of calls on the way',
    spread: 'Longer by',
    unit: 's of the clock',
  },
  slowTrains: { name: 'Slow trains', rate: '% of trains', spread: 'Slower by', unit: '%' },
  trainFailures: { name: 'Trains that fail', rate: '% of services', spread: 'For', unit: 's' },
  turnoutFailures: {
    name: 'Turnouts that fail',
    rate: 'Failures in an hour of running',
    spread: 'For',
    unit: 's',
  },
  lostContacts: { name: 'Lost contacts', rate: '% of sections taken', spread: 'For', unit: 's' },
};

export const DISTRIBUTIONS: Readonly<Record<Distribution['kind'], string>> = {
  fixed: 'always the same',
  uniform: 'evenly between',
  exponential: 'exponential',
  normal: 'normal, cut off',
};

/** What a distribution is told by, in order. */
export const PARAMETERS = {
  fixed: ['value'],
  uniform: ['least', 'most'],
  exponential: ['mean', 'most'],
  normal: ['mean', 'deviation', 'least', 'most'],
} as const;

export const PARAMETER_WORDS: Readonly<
  Record<(typeof PARAMETERS)[Distribution['kind']][number], string>
> = {
  value: 'Always',
  least: 'At least',
  most: 'At most',
  mean: 'On average',
  deviation: 'Standard deviation',
};

const NAMES = Object.keys(KINDS) as DisturbanceKind[];

/** The choices that a file of disturbances makes. */
export const choicesIn = (file: DisturbancesFile): DisturbanceChoice[] =>
  NAMES.map((kind) => {
    const of = file[kind];
    if (of === undefined) {
      return { kind, happens: false, rate: 1, distribution: { kind: 'fixed', value: 30 } };
    }
    return {
      kind,
      happens: true,
      rate: 'share' in of ? of.share : of.perHour,
      distribution: 'by' in of ? of.by : of.lasts,
    };
  });

/** The file of disturbances that the choices make, or in words what is wrong with one of them. */
export function fileOf(
  choices: readonly DisturbanceChoice[],
): { readonly file: DisturbancesFile } | { readonly wrong: string } {
  const fields = choices
    .filter(({ happens }) => happens)
    .map(({ kind, rate, distribution }) => [
      kind,
      {
        [kind === 'turnoutFailures' ? 'perHour' : 'share']: rate,
        [kind === 'lateStarts' || kind === 'longerCalls' || kind === 'slowTrains' ? 'by' : 'lasts']:
          distribution,
      },
    ]);
  const read = disturbancesSchema.safeParse({
    kind: 'blockbell-disturbances',
    version: 1,
    name: 'chosen on the board',
    ...Object.fromEntries(fields),
  });
  if (read.success) return { file: read.data };
  const [first] = read.error.issues;
  const kind = NAMES.find((name) => name === first?.path[0]);
  const place = kind === undefined ? 'Disturbances' : KINDS[kind].name;
  return {
    wrong: `${place}: ${first?.message ?? 'not as described'}. Put it right, or leave it out.`,
  };
}

/** The same mean, about, spread in another way. */
export function respread(distribution: Distribution, kind: Distribution['kind']): Distribution {
  const mean = meanOf(distribution);
  switch (kind) {
    case 'fixed':
      return { kind, value: mean };
    case 'uniform':
      return { kind, least: 0, most: 2 * mean };
    case 'exponential':
      return { kind, mean: Math.max(0.1, mean), most: Math.max(1, 8 * mean) };
    case 'normal':
      return {
        kind,
        mean,
        deviation: Math.max(0.1, mean / 2),
        least: 0,
        most: Math.max(1, 3 * mean),
      };
  }
}

function meanOf(distribution: Distribution): number {
  switch (distribution.kind) {
    case 'fixed':
      return distribution.value;
    case 'uniform':
      return (distribution.least + distribution.most) / 2;
    default:
      return distribution.mean;
  }
}
