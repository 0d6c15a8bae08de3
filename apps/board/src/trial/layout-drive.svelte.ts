import {
  layoutDriveRecord,
  type LayoutDriveRecord,
  type TrainView,
} from '@blockbell/contract/messages';
import type { Layout } from '@blockbell/railway';
import { headingOn } from '../trains/held-way.js';

const NOTHING: LayoutDriveRecord = { seen: {}, now: null };

/** A trial on the layout itself: one route at a time, each looked at by a person; kept in this browser, by layout. */
export class LayoutDrive {
  readonly #key: string;
  #record = $state.raw(NOTHING);

  /** `layout`: id of the layout file. */
  constructor(layout: string) {
    this.#key = `blockbell.layout-drive.${layout}`;
    this.#record = recordIn(localStorage.getItem(this.#key));
  }

  get seen(): LayoutDriveRecord['seen'] {
    return this.#record.seen;
  }

  /** The route that a train is running over, by id, with the train's label and the session. */
  get now(): LayoutDriveRecord['now'] {
    return this.#record.now;
  }

  /** A train is to run over a route from now on: nobody else sends one until it is judged or given up. */
  begin(route: string, train: string, session: string): void {
    this.#keep({ ...this.#record, now: { route, train, session } });
  }

  /** The route was not run after all: nothing is noted of it. */
  giveUp(): void {
    this.#keep({ ...this.#record, now: null });
  }

  /** A person says how the route went that was run; the next one may be. `layout`: digest of the layout. */
  judge(right: boolean, by: string, layout: string | null): void {
    const { seen, now } = this.#record;
    if (now === null) return;
    const found = {
      right,
      train: now.train,
      by,
      at: new Date().toISOString(),
      ...(layout === null ? {} : { layout }),
    };
    this.#keep({ seen: { ...seen, [now.route]: found }, now: null });
  }

  forget(): void {
    this.#keep(NOTHING);
  }

  #keep(record: LayoutDriveRecord): void {
    this.#record = record;
    localStorage.setItem(this.#key, JSON.stringify(record));
  }
}

/** What an earlier page left, or nothing where it can't be read. */
function recordIn(text: string | null): LayoutDriveRecord {
  try {
    return layoutDriveRecord.parse(JSON.parse(text ?? ''));
  } catch {
    return NOTHING;
  }
}

/** Whether a train stands with its head in the block where its way ends, and looks along it. */
export function standsAtEnd(layout: Layout, heading: number, train: TrainView): boolean {
  const last = train.path.at(-1);
  return (
    train.activity === 'standing' &&
    headingOn(layout, last) === heading &&
    train.motion.head >= (last?.start ?? Infinity)
  );
}
