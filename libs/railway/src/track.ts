/**
 * What the railway shares with those who know no engine, such as the simulated layout: units, ids, the track,
 * the stock on it, the file of a timetable and the messages of the device port. Nothing here decides anything.
 */
export * from './units.js';
export * from './ids.js';
export * from './layout/layout-file.js';
export * from './layout/layout.js';
export * from './stock/stock-file.js';
export * from './stock/train.js';
export * from './timetable/timetable-file.js';
export * from './session/device.js';
