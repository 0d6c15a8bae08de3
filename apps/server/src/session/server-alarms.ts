import type { AlarmView } from '@blockbell/contract';

/** Alarms of the server itself, which its engine knows nothing of, are numbered from here. */
const FIRST_ID = 1_000_000_000;

interface Moment {
  readonly at: number;
  readonly fast: number;
}

/** The server's own alarms beside the engine's, e.g. that the journal can't be written. One stands per `key`. */
export class ServerAlarms {
  private readonly alarms = new Map<string, AlarmView>();
  private nextId = FIRST_ID;

  /** Whether it was not standing already. */
  raise(key: string, text: string, mend: string, { at, fast }: Moment): boolean {
    const standing = this.alarms.get(key);
    if (standing !== undefined && standing.clearedAt === null) return false;
    this.alarms.set(key, {
      id: this.nextId++,
      text,
      mend,
      raisedAt: at,
      raisedFast: fast,
      clearedAt: null,
      acknowledgedBy: null,
    });
    return true;
  }

  /** Whether there was one to clear. */
  clear(key: string, at: number): boolean {
    const standing = this.alarms.get(key);
    if (standing === undefined || standing.clearedAt !== null) return false;
    this.alarms.set(key, { ...standing, clearedAt: at });
    return true;
  }

  /** Whether the server has such an alarm. */
  acknowledge(id: number, by: string): boolean {
    for (const [key, alarm] of this.alarms) {
      if (alarm.id !== id) continue;
      this.alarms.set(key, { ...alarm, acknowledgedBy: by });
      return true;
    }
    return false;
  }

  isStanding(key: string): boolean {
    return this.alarms.get(key)?.clearedAt === null;
  }

  rows(): readonly AlarmView[] {
    return [...this.alarms.values()];
  }
}

export const isServerAlarm = (id: number): boolean => id >= FIRST_ID;
