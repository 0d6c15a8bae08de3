export { CURRENT_SENSOR, READER, SINGLE_READER } from './detector-types.js';
export { car, cars, facingRear, leading, locomotive, train } from './rolling-stock.js';
export { service, stored, working, type Stop } from './service-times.js';
export type { TrackArea } from './track-area.js';
export { TrackBuilder } from './track-builder.js';
export {
  generateRailway,
  type GeneratedRailway,
  type GeneratorOptions,
} from './generate-railway.js';
