import type { RehearsalReport } from '../report/report.js';
import { latenessPicture, placesPicture, servicesPicture } from './lateness.js';
import { causersPicture, waitsPicture } from './waits.js';
import { yardsPicture } from './yards.js';

/** The pictures of a report by their names, each a whole SVG document. */
export const PICTURES = {
  lateness: { title: 'Arrivals by minutes late', draw: latenessPicture },
  services: { title: 'Delay of each service', draw: servicesPicture },
  places: { title: 'Delay at each station', draw: placesPicture },
  waits: { title: 'Where trains wait, and for whom', draw: waitsPicture },
  causers: { title: 'Who makes others wait', draw: causersPicture },
  yards: { title: 'Staging yards over the session', draw: yardsPicture },
} as const satisfies Record<
  string,
  { readonly title: string; readonly draw: (report: RehearsalReport) => string }
>;
