import type { DeviceCommand, DeviceEvent } from '@blockbell/railway';
import type { SimulatedLayout } from '@blockbell/simulation';
import type { DevicePort } from '../device-port.js';

/** The simulated layout behind the device port. */
export class SimulatedPort implements DevicePort {
  readonly name = 'simulated layout';
  readonly paced = true;
  private hear: (event: DeviceEvent) => void = () => {};

  constructor(private readonly layout: SimulatedLayout) {}

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
