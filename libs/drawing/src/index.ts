export { missingPlaces } from './missing-places.js';
export { withPlaces, type Places } from './places.js';
