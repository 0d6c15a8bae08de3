import {
  layoutDriveRecord,
  type LayoutDriveRecord,
  type TrainView,
} from '@blockbell/contract/messages';
import type { Layout, Route } from '@blockbell/railway';
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

  /** The route that a train is running over, by id. */
  get now(): LayoutDriveRecord['now'] {
    return this.#record.now;
  }

  begin(route: string, train: number): void {
    this.#keep({ ...this.#record, now: { route, train } });
  }

  /** A person says how the route went that was run; the next one may be. */
  judge(right: boolean, train: string, by: string): void {
    const { seen, now } = this.#record;
    if (now === null) return;
    const at = new Date().toISOString();
    this.#keep({ seen: { ...seen, [now.route]: { right, train, by, at } }, now: null });
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

/** Whether a train stands where a route begins, looking along it, and holds nothing beyond. */
export const standsBefore = (layout: Layout, route: Route, train: TrainView): boolean =>
  train.activity === 'standing' && headingOn(layout, train.path.at(-1)) === route.from;

/** Whether a train has come to stand in the block in which a route ends, looking along it. */
export function hasCome(layout: Layout, route: Route, train: TrainView): boolean {
  const last = train.path.at(-1);
  return (
    train.activity === 'standing' &&
    headingOn(layout, last) === route.to &&
    train.motion.head >= (last?.start ?? Infinity)
  );
}
