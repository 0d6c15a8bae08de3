import type { DeviceEvent } from './device.js';
import type { World } from './world.js';

/** Whether a message speaks of something this layout has; devices are wired and numbered by people. */
export function isKnown({ layout }: World, event: DeviceEvent): boolean {
  switch (event.kind) {
    case 'section':
    case 'report':
      return layout.sections[event.section] !== undefined;
    case 'drive': {
      const drive = layout.elements[event.element]?.drive ?? null;
      return (
        drive !== null && (event.position === null || drive.positions.includes(event.position))
      );
    }
    case 'power':
      return layout.districts[event.district] !== undefined;
    case 'bus':
      return layout.file.buses.some(({ id }) => id === event.bus);
  }
}
