import type { SessionLabels } from '@blockbell/contract';
import {
  fastNow,
  type Changes,
  type Effect,
  type EngineState,
  type Input,
  type World,
} from '@blockbell/railway';
import {
  journalLine,
  ServerAlarms,
  SessionFeed,
  SessionLog,
  type Journal,
} from '@blockbell/server/session-parts';

/** What the server tells boards and writes down of a session, kept up step by step. */
export class FedSession {
  readonly epoch = 'session-1.1';
  readonly log = new SessionLog();
  readonly alarms = new ServerAlarms();
  readonly feed: SessionFeed;

  constructor(
    readonly world: World,
    readonly state: EngineState,
    readonly now: () => number,
    private readonly journal: Journal | null,
  ) {
    this.feed = new SessionFeed(this);
  }

  labels(): SessionLabels {
    return {
      id: 'session-1',
      name: 'Bench',
      day: '',
      device: 'simulated layout',
      pace: 1,
      crews: [],
    };
  }

  stepped(input: Input, effects: readonly Effect[], changes: Changes): void {
    this.journal?.record(input, effects, this.state.revision);
    this.feed.note(changes);
    for (const effect of effects) {
      const line = journalLine(input, effect);
      if (line === null) continue;
      const fast = Math.round(fastNow(this.state.session.clock, input.at));
      this.log.add(input.at, fast, line.text, line.train);
      this.journal?.note(line.kind, input.at, fast, line.text, line.train);
    }
  }
}
