import { callFrom } from '@blockbell/railway';
import { passSeconds } from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { lookAt } from '../situation/look.js';
import { filesOf, rehearsalOf } from '../testing/example-rehearsal.js';
import { departureConnections, knownArrivals } from './connections.js';

describe('a connection from a service that is cancelled', () => {
  const rehearsal = rehearsalOf(filesOf('demo'), 1);
  const seconds = passSeconds(rehearsal, 10_000);
  while (!seconds.next().done);
  const { world } = rehearsal;
  const [connection] = world.timetable.connections;
  const trainOf = (service: number): number =>
    world.timetable.workings.findIndex((working) => working?.services.includes(service));
  const [feeder, waiting] = [trainOf(connection!.from), trainOf(connection!.to)];
  const graph = world.graphs[waiting]!;
  const leg = graph.stops.findIndex((_, at) => callFrom(graph, at)?.service === connection!.to);

  /** When the connecting service may leave, of one that might at once, and what it waits for. */
  function departures() {
    const situation = lookAt(world, rehearsal.state, rehearsal.now);
    const known = knownArrivals(world, situation, []);
    return departureConnections(world, situation, known, waiting, leg, 0);
  }

  it('is waited for before, as long as it is held', () => {
    expect(departures()).toEqual([{ at: expect.any(Number), awaits: [] }]);
    expect(departures()[0]!.at).toBeGreaterThan(0);
  });

  it('is waited for no more in a plan, as it is not when trains run', () => {
    const { services } = world.timetable.workings[feeder]!;
    const [service, through] = [services[0]!, services.at(-1)!];
    expect(
      rehearsal.command('Ada', { kind: 'cancel-services', train: feeder, service, through }),
    ).toBeNull();
    expect(departures()).toEqual([{ at: 0, awaits: [] }]);
  });
});
