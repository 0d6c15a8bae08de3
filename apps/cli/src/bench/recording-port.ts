import type { DeviceCommand, DeviceEvent, World } from '@blockbell/railway';
import type { DevicePort } from '@blockbell/server/session-parts';
import { createSimulatedLayout, type SimulatedLayout } from '@blockbell/simulation';
import type { Pauses } from './pauses.js';

/** An edge on its way to the stop command it causes, in ms of `performance.now()`. */
export interface EdgeToStop {
  /** When the layout said it. */
  readonly due: number;
  /** When the port heard it, for the thread was busy or its timer late. */
  readonly heard: number;
  /** When the stop command was handed to the layout. */
  readonly stopped: number;
}

/**
 * The simulated layout in real time behind the device port, with notes of how long each detector edge took to become a stop
 * command. Edges count from the moment the layout says them, whether or not anybody has time to listen.
 */
export class RecordingPort implements DevicePort {
  readonly name = 'simulated layout';
  /** A real layout's time can't be set, and doesn't wait for a slow machine. */
  readonly paced = false;
  readonly simulated: SimulatedLayout;
  #hear: (event: DeviceEvent) => void = () => {};
  /** Wall-clock time of the layout's physical time 0. */
  #origin = 0;
  readonly #heard = new Map<DeviceEvent, { readonly due: number; readonly heard: number }>();
  /** The edge whose step's effects are being carried out. */
  #cause: DeviceEvent | null = null;

  constructor(
    world: World,
    seed: number,
    readonly pauses: Pauses,
    readonly note: (edge: EdgeToStop) => void,
  ) {
    this.simulated = createSimulatedLayout({
      layout: world.layout,
      stock: world.stock,
      places: world.timetable.storedPlaces,
      seed,
    });
  }

  /** Physical time 0 is now. */
  begin(): void {
    this.#origin = performance.now();
  }

  /** An engine has taken this event; the commands that follow are its effects. Null: they have another cause. */
  causedBy(event: DeviceEvent | null): void {
    if (this.#cause !== null) this.#heard.delete(this.#cause);
    this.#cause = event;
  }

  listen(hear: (event: DeviceEvent) => void): void {
    this.#hear = hear;
  }

  command(at: number, command: DeviceCommand): void {
    const cause = this.#cause === null ? undefined : this.#heard.get(this.#cause);
    if (cause !== undefined && isStop(command)) {
      this.note({ ...cause, stopped: performance.now() });
      this.causedBy(null);
    }
    this.#run(() => this.simulated.command(Math.max(at, this.simulated.truth.now), command));
    this.advance(at);
  }

  nextAt(): number | null {
    return this.simulated.nextAt();
  }

  advance(to: number): void {
    const said = this.#run(() => this.simulated.advance(Math.max(to, this.simulated.truth.now)));
    for (const { at, event } of said) {
      if (event.kind === 'section')
        this.#heard.set(event, { due: this.#origin + at, heard: performance.now() });
      this.#hear(event);
    }
  }

  close(): Promise<void> {
    this.#hear = () => {};
    return Promise.resolve();
  }

  #run<T>(work: () => T): T {
    return this.pauses.during('simulated layout', work);
  }
}

const isStop = (command: DeviceCommand): boolean =>
  command.kind === 'stop-all' || (command.kind === 'set-speed' && command.step === 0);
