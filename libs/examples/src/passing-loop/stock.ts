import type { StockFile } from '@blockbell/railway';
import { car, cars, leading, locomotive, train } from '@blockbell/simulation';

/** Two push-pull trains. */
export function passingLoopStock(): StockFile {
  return {
    kind: 'blockbell-stock',
    version: 1,
    id: 'passing-loop-stock',
    name: 'Pennick stock',
    locomotives: [
      locomotive('L3', 'Tank engine 3', {
        address: 3,
        length: 150,
        topSpeed: 180,
        acceleration: 90,
        braking: 130,
        spread: [3, 8],
      }),
      locomotive('L1047', 'Diesel 1047', {
        address: 1047,
        length: 180,
        topSpeed: 200,
        acceleration: 100,
        braking: 150,
        spread: [2, 6],
      }),
    ],
    cars: [car('coach', 'Branch coach', 220), car('cab', 'Driving trailer', 230)],
    trains: [
      train('T3', '3', 'Marsh shuttle', {
        class: 'passenger',
        priority: 4,
        canReverse: true,
        vehicles: [leading('L3'), cars('coach', 1), cars('cab', 1)],
      }),
      train('T47', '1047', 'Marsh railmotor', {
        class: 'passenger',
        priority: 5,
        canReverse: true,
        vehicles: [leading('L1047'), cars('coach', 2), cars('cab', 1)],
      }),
    ],
  };
}
