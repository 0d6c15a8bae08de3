import type { DeviceCommand, DeviceEvent, World } from '@blockbell/railway';
import { createSimulatedLayout, type Fault, type SimulatedLayout } from '@blockbell/simulation';
import type { DevicePort } from '../device-port.js';

/**
 * The simulated layout behind the device port. Its trains begin where the timetable expects them; `faults` happen as
 * scripted.
 */
export class SimulatedPort implements DevicePort {
  readonly name = 'simulated layout';
  readonly paced = true;
  private readonly layout: SimulatedLayout;
  private hear: (event: DeviceEvent) => void = () => {};

  constructor(world: World, seed: number, faults: readonly Fault[] = []) {
    this.layout = createSimulatedLayout({
      layout: world.layout,
      stock: world.stock,
      places: world.timetable.storedPlaces,
      seed,
      faults,
    });
  }

  listen(hear: (event: DeviceEvent) => void): void {
    this.hear = hear;
  }

  command(at: number, command: DeviceCommand): void {
    this.layout.command(at, command);
    // What fell due on the way to `at` is said now, not with the next advance.
    this.advance(at);
  }

  nextAt(): number | null {
    return this.layout.nextAt();
  }

  advance(to: number): void {
    for (const { event } of this.layout.advance(to)) this.hear(event);
  }

  close(): Promise<void> {
    this.hear = () => {};
    return Promise.resolve();
  }
}
