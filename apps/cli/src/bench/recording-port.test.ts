import { compileWorld, type DeviceEvent } from '@blockbell/railway';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { Pauses } from './pauses.js';
import { RecordingPort, type EdgeToStop } from './recording-port.js';
import { demoSubject } from './subjects.js';

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['performance'] });
});
afterEach(() => {
  vi.useRealTimers();
});

/** A port with power on, on which a section has become occupied at 5,010 ms and been heard 5 ms later. */
function portAfterEdge() {
  const { layout, stock, timetable } = demoSubject();
  const world = compileWorld(layout, stock, timetable);
  const edges: EdgeToStop[] = [];
  const pauses = new Pauses();
  const port = new RecordingPort(world, 1, pauses, (edge) => edges.push(edge));
  pauses.close();
  const heard: DeviceEvent[] = [];
  port.listen((event) => heard.push(event));
  const began = performance.now();
  port.begin();
  for (const district of world.layout.districts.keys()) {
    port.command(0, { kind: 'set-power', district, on: true });
  }
  vi.advanceTimersByTime(5000);
  port.advance(5000);
  const section = world.layout.sections.findIndex(
    (_, each) => !port.simulated.truth.section(each).occupied,
  );
  port.simulated.injectFault({ kind: 'stuck-detector', at: 5000, section, duration: null });
  vi.advanceTimersByTime(1000);
  port.advance(6000);
  const edge = heard.find(
    (event) => event.kind === 'section' && event.section === section && event.occupied,
  );
  expect(edge).toBeDefined();
  return { port, edge: edge!, edges, began };
}

it('an edge counts from when the layout said it to the first stop command it causes', () => {
  const { port, edge, edges, began } = portAfterEdge();
  port.causedBy(edge);
  vi.advanceTimersByTime(7);
  port.command(6007, { kind: 'set-aspect', heading: 0, aspect: 'stop' });
  expect(edges).toEqual([]);
  port.command(6007, { kind: 'stop-all' });
  port.command(6007, { kind: 'stop-all' });
  expect(edges).toHaveLength(1);
  const { due, heard, stopped } = edges[0]!;
  expect(due - began).toBeGreaterThanOrEqual(5000);
  expect(due - began).toBeLessThan(5500);
  expect(heard - began).toBe(6000);
  expect(stopped - began).toBe(6007);
});

it('a stop command with another cause is not counted', () => {
  const { port, edge, edges } = portAfterEdge();
  port.causedBy(edge);
  port.causedBy(null);
  port.command(6000, { kind: 'stop-all' });
  expect(edges).toEqual([]);
});
