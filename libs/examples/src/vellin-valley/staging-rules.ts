import type { StagingRulesFile, StationId } from '@blockbell/railway';

/**
 * Rules for the demo’s hidden yard: expresses take the tracks at the front of the loop in turn, freight those at its back, and everybody else the nearest
 * fit that buries nobody.
 */
export const vellinValleyRules = (): StagingRulesFile => ({
  kind: 'blockbell-staging-rules',
  version: 1,
  id: 'undercroft-rules',
  name: 'Demo: expresses in front',
  layout: 'vellin-valley',
  yards: [
    {
      yard: 'undercroft' as StationId,
      arrivals: [
        {
          when: { is: 'class', of: ['express'] },
          only: { is: 'track', of: ['Y1', 'Y2', 'Y3'] },
          order: [{ by: 'rotation' }],
        },
        {
          when: { is: 'class', of: ['freight'] },
          only: {
            is: 'all',
            of: [{ is: 'track', of: ['Y5', 'Y6', 'Y7', 'Y8'] }, { is: 'burying-nobody' }],
          },
          order: [{ by: 'least-spare' }],
        },
        {
          only: { is: 'burying-nobody' },
          order: [{ by: 'fewest-buried' }, { by: 'least-spare' }],
        },
      ],
      nothingFits: [
        { do: 'hold', minutes: 6 },
        { do: 'take', order: [{ by: 'fewest-buried' }] },
        { do: 'ask' },
      ],
      departures: {
        order: [{ by: 'timetable' }, { by: 'class', of: ['express', 'passenger'] }],
        requests: [],
      },
      moveUp: 'on-arrival',
    },
  ],
});
