import { fault } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { PORTS } from '../element-legs.js';
import type { LayoutFile } from '../layout-file.js';
import { portKey, splitPort } from '../track-graph.js';
import type { TrackGraph } from '../track-graph.js';
import { elementPlace } from './names.js';

/** Every port is joined to exactly one port of another element. */
export function checkJoins(file: LayoutFile, graph: TrackGraph): Fault[] {
  const faults: Fault[] = [];
  const joinedAt = new Map<string, number>();

  file.joins.forEach((pair, join) => {
    const place = `joins[${join}] ${pair.join('–')}`;
    const elements = pair.map((text) => {
      const found = findEnd(text, graph);
      if (typeof found === 'string') {
        faults.push(fault(place, found, 'write a port as element.port'));
        return null;
      }
      const key = portKey(found.element, found.port);
      const earlier = joinedAt.get(key);
      if (earlier !== undefined && earlier !== join) {
        faults.push(
          fault(
            place,
            `${text} is already joined by joins[${earlier}]`,
            'a port meets exactly one other port: remove one of the joins',
          ),
        );
      } else joinedAt.set(key, join);
      return found.element;
    });
    if (elements[0] !== null && elements[0] === elements[1]) {
      faults.push(
        fault(
          place,
          'an element is joined to itself',
          'join it to another element; divide a ring into at least two blocks',
        ),
      );
    }
  });

  file.elements.forEach((element, index) => {
    if (graph.indexOf.get(element.id) !== index) return;
    for (const port of PORTS[element.kind]) {
      if (joinedAt.has(portKey(index, port))) continue;
      faults.push(
        fault(
          `${elementPlace(file, index)} port ${port}`,
          'nothing is joined to this port',
          'join it to the port it meets, or to a buffer stop where the track ends',
        ),
      );
    }
  });
  return faults;
}

/** The port a text names, or what is wrong with the text. */
function findEnd(text: string, graph: TrackGraph): { element: number; port: string } | string {
  const parts = splitPort(text);
  if (parts === null) return `"${text}" names no port`;
  const element = graph.indexOf.get(parts.element);
  const kind = element === undefined ? undefined : graph.elements[element]?.kind;
  if (element === undefined || kind === undefined) return `there is no element ${parts.element}`;
  if (!PORTS[kind].includes(parts.port)) {
    return `${parts.element} is a ${kind} and has no port ${parts.port}, only ${PORTS[kind].join(', ')}`;
  }
  return { element, port: parts.port };
}
