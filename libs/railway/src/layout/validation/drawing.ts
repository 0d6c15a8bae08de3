import { fault } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { PORTS } from '../element-legs.js';
import type { LayoutFile } from '../layout-file.js';
import { elementPlace } from './names.js';

/** An element that is drawn has a point for each of its ports, and no others. */
export const checkDrawing = (file: LayoutFile): Fault[] =>
  file.elements.flatMap((element, index) => {
    if (element.draw === undefined) return [];
    const place = `${elementPlace(file, index)} draw`;
    const ports = PORTS[element.kind];
    const drawn = Object.keys(element.draw.ports);
    return [
      ...ports
        .filter((port) => !drawn.includes(port))
        .map((port) =>
          fault(place, `port ${port} has no point`, 'enter where the port lies, as [x, y]'),
        ),
      ...drawn
        .filter((port) => !ports.includes(port))
        .map((port) =>
          fault(place, `a ${element.kind} has no port ${port}`, `draw only ${ports.join(', ')}`),
        ),
      ...(element.draw.via !== undefined && element.kind !== 'block'
        ? [fault(place, `a ${element.kind} has no bends`, 'remove "via": only blocks have bends')]
        : []),
    ];
  });
