import type { BoardView } from '../shared/board.svelte.js';
import { Frame } from '../live/frame.svelte.js';
import { PacedTrains } from '../live/paced-trains.svelte.js';
import type { Notices } from '../shared/notices.svelte.js';
import type { Preferences } from '../shared/preferences.svelte.js';
import { Selection } from '../shared/selection.svelte.js';
import type { Recording } from './recording.svelte.js';

const NOTHING_MOVES =
  'You are looking back: nothing here moves a train. Go to the live board first.';

/** The board of a session that is looked at again: everything can be looked at, and nothing commanded. To be made while a component is. */
export class ReviewBoard implements BoardView {
  readonly frame: Frame;
  readonly told: PacedTrains;
  readonly selection = new Selection();
  readonly onlyLooks = true;

  constructor(
    readonly live: Recording,
    readonly notices: Notices,
    readonly preferences: Preferences,
  ) {
    this.frame = new Frame(live);
    this.told = new PacedTrains(live, this.frame);
  }

  command(_command: unknown, control: Element): Promise<boolean> {
    return this.#refuse(control);
  }

  setRoute(_train: number, _block: number, control: Element): Promise<boolean> {
    return this.#refuse(control);
  }

  clickElement(element: number): void {
    this.selection.toggleElement(element);
  }

  async setPace(_pace: number, control: Element): Promise<void> {
    await this.#refuse(control);
  }

  #refuse(control: Element): Promise<boolean> {
    this.notices.show(NOTHING_MOVES, control);
    return Promise.resolve(false);
  }
}
