import { describe, expect, it } from 'vitest';
import { cameToItsEnd, SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { identityCases } from '../support/fault-cases.js';
import { IDENTITY_FAULTS, type IdentityFault } from '../support/identity-faults.js';
import { rehearse } from '../support/rehearse.js';

/** Faults after which a contact may come that no logic can keep off; every other one must harm nothing at all. */
const MAY_TOUCH: readonly IdentityFault[] = [
  'lost-cars',
  'hand-moved',
  'two-in-one-block',
  'coupled',
];

const WORDS: Record<IdentityFault, string> = {
  'lost-cars': 'cars that come off are found, lifted off, and the line is free again',
  ghost: 'a detector that sticks stops who comes near, until a person says the track is clear',
  'long-dropout': 'a section that loses contact for long proves nothing and frees nothing',
  misread: 'a decoder read where it is not moves no train in the books',
  'hand-moved': 'a train lifted and set down elsewhere is missed, found and put right',
  'two-in-one-block': 'two trains in one block are told apart',
  coupled: 'a train hung on behind another is missed, taken off and put back',
  'bus-silence': 'a bus that falls silent stops every train, and every place is asked again',
};

const KINDS = (Object.keys(IDENTITY_FAULTS) as IdentityFault[]).map(
  (kind) => [WORDS[kind], kind] as const,
);

describe.each(KINDS)('%s', (_, kind) => {
  it.each(identityCases(kind))(
    '%s',
    (name, { railway, seed, faults }) => {
      const report = rehearse(railway, { seed, faults });
      const { broken, excused } = report.violations;
      expect({ broken, ...cameToItsEnd(report) }, name).toEqual({
        broken: [],
        ended: true,
        notRun: [],
      });
      if (!MAY_TOUCH.includes(kind)) expect(excused).toEqual([]);
    },
    SESSION_TIMEOUT,
  );
});
