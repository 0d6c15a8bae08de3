import type { LayoutFile } from '@blockbell/railway';
import { TrackBuilder } from '@blockbell/simulation';
import { CURRENT_SENSOR, READER, SINGLE_READER } from '@blockbell/simulation';
import { addBranch } from './branch.js';
import { addHiddenYard } from './hidden-yard.js';
import { addBrindlemere, addOstraven } from './main-line.js';
import { addSelquay } from './terminus.js';
import { createAreas } from './wiring.js';

/** The Vellin Valley Railway: an invented club layout in 1:87, with the rest of its world in a hidden yard. */
export function vellinValleyLayout(): LayoutFile {
  const track = new TrackBuilder({
    id: 'vellin-valley',
    name: 'Vellin Valley Railway',
    scaleRatio: 87,
  })
    .level('open', 'Open level', false)
    .level('hidden', 'Hidden yard', true)
    .district('yard', 'Hidden yard')
    .district('west', 'Main line west of Ostraven junction')
    .district('east', 'Main line east and Selquay')
    .district('branch', 'Branch')
    .bus('below', 'Yard feedback', 'poll', 800)
    .bus('above', 'Main line feedback', 'heartbeat', 1500)
    .bus('valley', 'Branch feedback', 'heartbeat', 1500)
    .detectorType(READER)
    .detectorType(SINGLE_READER)
    .detectorType(CURRENT_SENSOR);
  const areas = createAreas(track);
  addHiddenYard(track, areas);
  addBrindlemere(track, areas);
  addOstraven(track, areas);
  addSelquay(track, areas);
  addBranch(track, areas);
  return track.build();
}
