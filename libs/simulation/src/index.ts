export { TrackBuilder } from './generator/track-builder.js';
export { TrackArea, type AreaOptions, type BlockOptions } from './generator/track-area.js';
