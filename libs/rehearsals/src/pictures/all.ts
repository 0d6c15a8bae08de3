import type { LayoutFile } from '@blockbell/railway';
import type { RehearsalReport } from '../report/report.js';
import { latenessPicture, placesPicture, servicesPicture } from './lateness.js';
import { heatPicture } from './track-heat.js';
import { causersPicture, waitsPicture } from './waits.js';
import { yardsPicture } from './yards.js';

/** The pictures of a report by their names, each a whole SVG document. */
export const PICTURES: Readonly<
  Record<
    string,
    {
      readonly title: string;
      readonly draw: (report: RehearsalReport, layout: LayoutFile) => string;
    }
  >
> = {
  lateness: { title: 'Arrivals by minutes late', draw: latenessPicture },
  services: { title: 'Delay of each service', draw: servicesPicture },
  places: { title: 'Delay at each station', draw: placesPicture },
  track: { title: 'Where trains wait, on the track diagram', draw: heatPicture },
  waits: { title: 'Where trains wait, and for whom', draw: waitsPicture },
  causers: { title: 'Who makes others wait', draw: causersPicture },
  yards: { title: 'Staging yards over the session', draw: yardsPicture },
};
