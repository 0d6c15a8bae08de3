export { TrackArea, type AreaOptions, type BlockOptions } from './track-area.js';
export { TrackBuilder } from './track-builder.js';
