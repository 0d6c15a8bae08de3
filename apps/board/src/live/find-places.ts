export { missingPlaces } from '@blockbell/drawing';
