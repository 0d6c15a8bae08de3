import type { TrainFile } from '@blockbell/railway';
import { cars, facingRear, leading, train } from '@blockbell/simulation';

/** The trains of the session; those that can't reverse go round by the balloon loop and the yard. */
export const VELLIN_VALLEY_TRAINS: readonly TrainFile[] = [
  train('T101', '101', 'Coast Flyer', {
    class: 'express',
    priority: 1,
    vehicles: [leading('L101'), cars('express-coach', 5)],
  }),
  train('T102', '102', 'Valley Flyer', {
    class: 'express',
    priority: 1,
    vehicles: [leading('L102'), cars('express-coach', 4)],
  }),
  train('T21', '21', 'Stopping train 21', {
    class: 'passenger',
    priority: 3,
    vehicles: [leading('L21'), cars('coach', 4)],
  }),
  train('T22', '22', 'Stopping train 22', {
    class: 'passenger',
    priority: 3,
    vehicles: [leading('L22'), cars('coach', 5)],
  }),
  train('T61', '61', 'Double-headed ore train', {
    class: 'freight',
    priority: 6,
    vehicles: [leading('L61'), leading('L65'), cars('hopper', 10)],
  }),
  train('T62', '62', 'Ore empties', {
    class: 'freight',
    priority: 6,
    vehicles: [leading('L62'), cars('hopper', 7), cars('old-hopper', 2)],
  }),
  train('T63', '63', 'Fish train', {
    class: 'freight',
    priority: 5,
    vehicles: [leading('L63'), cars('box-wagon', 9)],
  }),
  train('T64', '64', 'Pick-up goods', {
    class: 'freight',
    priority: 7,
    vehicles: [leading('L64'), cars('box-wagon', 7)],
  }),
  train('T31', '31', 'Suburban 31', {
    class: 'passenger',
    priority: 4,
    canReverse: true,
    vehicles: [leading('L31'), cars('suburban', 2), cars('cab', 1)],
  }),
  train('T32', '32', 'Suburban 32', {
    class: 'passenger',
    priority: 4,
    canReverse: true,
    vehicles: [leading('L32'), cars('suburban', 3), cars('cab', 1)],
  }),
  train('T33', '33', 'Dunmarrow through train', {
    class: 'passenger',
    priority: 3,
    canReverse: true,
    vehicles: [leading('L33'), cars('coach', 1), cars('cab', 1)],
  }),
  train('T34', '34', 'Suburban 34', {
    class: 'passenger',
    priority: 4,
    canReverse: true,
    vehicles: [leading('L34'), cars('suburban', 2), cars('cab', 1)],
  }),
  train('T35', '35', 'Suburban 35', {
    class: 'passenger',
    priority: 4,
    canReverse: true,
    vehicles: [leading('L35'), cars('suburban', 1), cars('cab', 1)],
  }),
  train('T71', '71', 'Branch railcar 71', {
    class: 'passenger',
    priority: 5,
    canReverse: true,
    vehicles: [leading('L71')],
  }),
  train('T72', '72', 'Branch railcar 72', {
    class: 'passenger',
    priority: 5,
    canReverse: true,
    vehicles: [leading('L72'), cars('railcar-trailer', 1)],
  }),
  train('T91', '91', 'Stone train', {
    class: 'works',
    priority: 8,
    canReverse: true,
    vehicles: [leading('L91'), cars('stone-wagon', 6), facingRear('L92')],
  }),
];
