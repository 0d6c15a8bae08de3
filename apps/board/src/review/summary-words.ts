import type { SessionSummaryView } from '@blockbell/contract/messages';
import { spanText } from '../shared/span-text.js';

/** Locomotives that a person should look at. */
export const oddLocomotives = ({
  locomotives,
}: SessionSummaryView): SessionSummaryView['locomotives'] =>
  locomotives.filter(({ verdict }) => verdict === 'never answers' || verdict === 'seldom answers');

/** Detectors that a person should look at. */
export const oddDetectors = ({ detectors }: SessionSummaryView): SessionSummaryView['detectors'] =>
  detectors.filter(({ verdict }) => verdict !== 'good' && verdict !== 'not used');

/** What a service waited for, the longest first; a dash when it did not wait. */
export const causesOf = ({ waits }: SessionSummaryView['services'][number]): string =>
  waits.length === 0
    ? '–'
    : waits
        .map(({ for: other, place, why, time }) =>
          other === null
            ? `${spanText(time)} ${why} at ${place}`
            : `${spanText(time)} for ${other} at ${place}`,
        )
        .join('; ');
