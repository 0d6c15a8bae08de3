import type { DeviceCommand, DeviceEvent } from '@blockbell/railway';

/**
 * A way to reach a layout, simulated or real; one folder beside this file per way. All times are physical ms of
 * the session. Nothing above the port can tell which kind it has, save by its name and whether its pace can
 * be set.
 */
export interface DevicePort {
  /** As a dispatcher would call it, e.g. "simulated layout". */
  readonly name: string;
  /** Whether its time may run faster or slower than the clock on the wall. */
  readonly paced: boolean;
  /** Takes over the listener of what the layout says. Called once, before anything else. */
  listen(hear: (event: DeviceEvent) => void): void;
  /** Carries a command out as of `at`; never waits, never throws: what fails shows in later events. */
  command(at: number, command: DeviceCommand): void;
  /** The next moment at which it will have something to say; null: not known beforehand, or never. */
  nextAt(): number | null;
  /** Time has come to `to`: it says what it has to say up to then. */
  advance(to: number): void;
  /** Ends the connection; nothing is heard afterwards. */
  close(): Promise<void>;
}
