import type { CommandMessage } from '@blockbell/contract/messages';
import { createContext } from 'svelte';
import { Frame } from '../live/frame.svelte.js';
import { LiveSession } from '../live/live-session.svelte.js';
import { PacedTrains } from '../live/paced-trains.svelte.js';
import type { Account } from '../people/account.svelte.js';
import type { Picture } from '../live/picture.js';
import { Notices } from './notices.svelte.js';
import { Preferences } from './preferences.svelte.js';
import { Selection } from './selection.svelte.js';

export type Command = CommandMessage['command'];

/** What the screens draw and what they do it with; a session that runs, or one that is looked at again. */
export interface BoardView {
  readonly live: Picture;
  readonly frame: Frame;
  /** The trains as they are told of in words and lines. */
  readonly told: PacedTrains;
  readonly selection: Selection;
  readonly notices: Notices;
  readonly preferences: Preferences;
  /** Whether this is only looked at: a recording, or the board of a visitor. */
  readonly onlyLooks: boolean;
  command(command: Command, control: Element): Promise<boolean>;
  setRoute(train: number, block: number, control: Element): Promise<boolean>;
  clickElement(element: number, control: Element): void;
  setPace(pace: number, control: Element): Promise<void>;
}

/** The board of the session that runs. To be made while a component is. */
export class Board implements BoardView {
  readonly live = new LiveSession(() => void this.enter());
  readonly frame = new Frame(this.live);
  readonly told = new PacedTrains(this.live, this.frame);
  readonly selection = new Selection();
  readonly notices = new Notices();
  readonly preferences = new Preferences();

  constructor(private readonly account: Account) {}

  get onlyLooks(): boolean {
    return this.account.onlyLooks;
  }

  /** Asks who is at the page, and shows them the session if they may see it. */
  async enter(): Promise<void> {
    await this.account.ask();
    if (this.account.entered) this.live.open();
    else this.live.close();
  }

  /** Gives a command in this viewer's name; a refusal is shown beside `control`. True when it was accepted. */
  async command(command: Command, control: Element): Promise<boolean> {
    const refusal = await this.live.command(this.#by, command);
    if (refusal) this.notices.show(refusal.text, control);
    return refusal === null;
  }

  /** Sets a route for a train to a block. True when it was accepted; then no block is being chosen any more. */
  async setRoute(train: number, block: number, control: Element): Promise<boolean> {
    const accepted = await this.command({ kind: 'set-route', train, block }, control);
    if (accepted) this.selection.choosingBlock = false;
    return accepted;
  }

  /** An element of the track was clicked: the end of the way that is being chosen, or something to look at. */
  clickElement(element: number, control: Element): void {
    const { train, choosingBlock } = this.selection;
    if (train === null || !choosingBlock) {
      this.selection.toggleElement(element);
    } else if (this.live.railway?.layout.elements[element]?.kind === 'block') {
      void this.setRoute(train, element, control);
    } else {
      this.notices.show('A way ends in a block: choose a block.', control);
    }
  }

  async setPace(pace: number, control: Element): Promise<void> {
    const refusal = await this.live.setPace(this.#by, pace);
    if (refusal) this.notices.show(refusal.text, control);
  }

  get #by(): string {
    return this.account.nameOr(this.preferences.by);
  }
}

/** The board of the page a component stands on. */
export const [useBoard, provideBoard] = createContext<BoardView>();
