import type { StockFile } from '@blockbell/railway';
import { VELLIN_VALLEY_TRAINS } from './trains.js';
import { car, locomotive } from '@blockbell/simulation';

/** Measured on the club's test track: mm, mm/s, mm/s², percent. */
export function vellinValleyStock(): StockFile {
  return {
    kind: 'blockbell-stock',
    version: 1,
    id: 'vellin-valley-stock',
    name: 'Vellin Valley stock',
    locomotives: [...EXPRESS_ENGINES, ...FREIGHT_ENGINES, ...PUSH_PULL_ENGINES, ...BRANCH_ENGINES],
    cars: [
      car('express-coach', 'Express coach', 270),
      car('coach', 'Coach', 240),
      car('suburban', 'Suburban coach', 260),
      car('cab', 'Driving coach', 265),
      car('railcar-trailer', 'Railcar trailer', 280),
      car('box-wagon', 'Box wagon', 130),
      car('hopper', 'Hopper wagon', 150),
      car('old-hopper', 'Hopper wagon with plastic axles', 150, false),
      car('stone-wagon', 'Stone wagon', 140),
    ],
    trains: VELLIN_VALLEY_TRAINS,
  };
}

const EXPRESS_ENGINES = [
  locomotive('L101', 'Express engine 101', {
    address: 1101,
    length: 240,
    topSpeed: 275,
    acceleration: 110,
    braking: 150,
    spread: [2, 5],
    runOn: 60,
  }),
  locomotive('L102', 'Express engine 102', {
    address: 1102,
    length: 235,
    topSpeed: 265,
    acceleration: 105,
    braking: 145,
    spread: [2, 6],
    runOn: 60,
  }),
  locomotive('L21', 'Mixed-traffic engine 21', {
    address: 21,
    length: 200,
    topSpeed: 225,
    acceleration: 100,
    braking: 140,
    spread: [3, 7],
  }),
  locomotive('L22', 'Mixed-traffic engine 22', {
    address: 22,
    length: 200,
    topSpeed: 220,
    acceleration: 95,
    braking: 135,
    spread: [3, 7],
  }),
];

const FREIGHT_ENGINES = [
  locomotive('L61', 'Freight engine 61', {
    address: 61,
    length: 200,
    topSpeed: 175,
    acceleration: 70,
    braking: 110,
    spread: [3, 9],
  }),
  locomotive('L65', 'Freight engine 65', {
    address: 65,
    length: 200,
    topSpeed: 180,
    acceleration: 75,
    braking: 115,
    spread: [3, 8],
  }),
  locomotive('L62', 'Freight engine 62', {
    address: 1062,
    length: 210,
    topSpeed: 185,
    acceleration: 75,
    braking: 120,
    spread: [3, 8],
  }),
  locomotive('L63', 'Freight engine 63, old decoder', {
    address: 63,
    length: 190,
    topSpeed: 180,
    acceleration: 70,
    braking: 110,
    spread: [4, 10],
    answers: false,
  }),
  locomotive('L64', 'Freight engine 64', {
    address: 64,
    length: 190,
    topSpeed: 190,
    acceleration: 80,
    braking: 120,
    spread: [3, 8],
  }),
];

const PUSH_PULL_ENGINES = [
  locomotive('L31', 'Push-pull engine 31', {
    address: 31,
    length: 185,
    topSpeed: 230,
    acceleration: 120,
    braking: 170,
    spread: [2, 5],
  }),
  locomotive('L32', 'Push-pull engine 32', {
    address: 1032,
    length: 185,
    topSpeed: 235,
    acceleration: 120,
    braking: 170,
    spread: [2, 6],
  }),
  locomotive('L33', 'Push-pull engine 33', {
    address: 33,
    length: 165,
    topSpeed: 210,
    acceleration: 110,
    braking: 160,
    spread: [2, 6],
  }),
  locomotive('L34', 'Push-pull engine 34', {
    address: 1034,
    length: 185,
    topSpeed: 230,
    acceleration: 115,
    braking: 165,
    spread: [2, 5],
  }),
  locomotive('L35', 'Push-pull engine 35, old decoder', {
    address: 35,
    length: 180,
    topSpeed: 215,
    acceleration: 110,
    braking: 160,
    spread: [3, 8],
    answers: false,
  }),
];

const BRANCH_ENGINES = [
  locomotive('L71', 'Railcar 71', {
    address: 71,
    length: 310,
    topSpeed: 170,
    acceleration: 130,
    braking: 190,
    spread: [2, 5],
  }),
  locomotive('L72', 'Railcar 72, old decoder', {
    address: 72,
    length: 290,
    topSpeed: 165,
    acceleration: 125,
    braking: 180,
    spread: [3, 7],
    answers: false,
  }),
  locomotive('L91', 'Quarry engine 91', {
    address: 91,
    length: 150,
    topSpeed: 160,
    acceleration: 80,
    braking: 130,
    spread: [3, 8],
  }),
  locomotive('L92', 'Quarry engine 92', {
    address: 92,
    length: 150,
    topSpeed: 155,
    acceleration: 80,
    braking: 130,
    spread: [3, 8],
  }),
];
