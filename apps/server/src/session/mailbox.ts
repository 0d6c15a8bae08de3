import type { Command, DeviceEvent, DispatchPlan, Refusal } from '@blockbell/railway';

/** Something that waits to become an input of the engine. Its time is given when it is taken. */
export type Letter =
  | { readonly kind: 'device'; readonly event: DeviceEvent }
  | { readonly kind: 'plan'; readonly plan: DispatchPlan }
  | {
      readonly kind: 'command';
      readonly by: string;
      readonly command: Command;
      readonly answer: (refusal: Refusal | null) => void;
    };

/**
 * What has come in and was not yet taken, one at a time. Letters that stop a train overtake the others, but never what
 * they build on: messages about the same section, power and buses keep their order.
 */
export class Mailbox {
  private readonly urgent: Letter[] = [];
  private ordinary: Letter[] = [];

  post(letter: Letter): void {
    if (!stopsATrain(letter)) {
      this.ordinary.push(letter);
      return;
    }
    if (letter.kind === 'device') {
      const { event } = letter;
      this.urgent.push(...this.ordinary.filter((earlier) => mustPrecede(earlier, event)));
      this.ordinary = this.ordinary.filter((earlier) => !mustPrecede(earlier, event));
    }
    this.urgent.push(letter);
  }

  take(): Letter | null {
    return this.urgent.shift() ?? this.ordinary.shift() ?? null;
  }

  get isEmpty(): boolean {
    return this.urgent.length === 0 && this.ordinary.length === 0;
  }

  /** Whether the layout has said something that waits. */
  get holdsMessages(): boolean {
    return [this.urgent, this.ordinary].some((all) => all.some(({ kind }) => kind === 'device'));
  }
}

function stopsATrain(letter: Letter): boolean {
  if (letter.kind === 'command')
    return letter.command.kind === 'stop-all' || letter.command.kind === 'cut-power';
  if (letter.kind === 'plan') return false;
  return letter.event.kind === 'section' && letter.event.occupied;
}

function mustPrecede(earlier: Letter, event: DeviceEvent): boolean {
  if (earlier.kind !== 'device') return false;
  switch (earlier.event.kind) {
    case 'power':
    case 'bus':
      return true;
    case 'section':
    case 'report':
      return event.kind === 'section' && earlier.event.section === event.section;
    case 'drive':
      return false;
  }
}
