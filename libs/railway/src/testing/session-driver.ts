import type { LayoutFile } from '../layout/layout-file.js';
import { headingOf } from '../layout/layout.js';
import { createSession } from '../session/create-session.js';
import { nextDeadline } from '../session/deadlines.js';
import type { DeviceCommand, DeviceEvent } from '../session/device.js';
import type { Effect } from '../session/effect.js';
import type { Command, Input } from '../session/input.js';
import { lineUpRow, type LineUpRow } from '../session/line-up.js';
import type { ElementState, EngineState, SectionState, TrainState } from '../session/state.js';
import { step } from '../session/step.js';
import { compileWorld, type World } from '../session/world.js';
import type { StockFile } from '../stock/stock-file.js';
import type { TimetableFile } from '../timetable/timetable-file.js';
import { indexOf } from './edit.js';

/** Time a drive of the driver takes to report its position, ms. */
export const THROW = 500;

interface Sent {
  readonly at: number;
  readonly command: DeviceCommand;
}

/**
 * Drives a session by hand: tests say what detectors report and what people command, by the names in the files, and look
 * at what the engine makes of it. Districts and drives with feedback answer by themselves, unless told not to;
 * trains don't: a test that wants one to move says which sections see it.
 */
export class SessionDriver {
  readonly world: World;
  state: EngineState;
  now = 0;
  /** All device commands so far. */
  readonly sent: Sent[] = [];
  /** All effects so far. */
  readonly effects: Effect[] = [];
  /** Whether districts answer commands for power. */
  powerAnswers = true;
  /** Elements whose drives don't report any more. */
  readonly stuck = new Set<number>();
  /** Whether the state is written out as JSON and read again before every step. */
  roundTrip = false;
  readonly #inputs: Input[] = [];
  readonly #pending: { readonly at: number; readonly event: DeviceEvent }[] = [];

  constructor(
    private readonly layout: LayoutFile,
    private readonly stock: StockFile,
    private readonly timetable: TimetableFile,
  ) {
    this.world = compileWorld(layout, stock, timetable);
    this.state = createSession(this.world);
  }

  /** All effects of the same inputs on a world of its own. */
  replay(): Effect[] {
    const world = compileWorld(this.layout, this.stock, this.timetable);
    const state = createSession(world);
    return this.#inputs.flatMap((input) => step(world, state, input).effects);
  }

  /** One step with this input, now. Returns its effects. */
  feed(input: Input): readonly Effect[] {
    if (this.roundTrip) this.state = JSON.parse(JSON.stringify(this.state)) as EngineState;
    this.#inputs.push(structuredClone(input));
    const { effects } = step(this.world, this.state, input);
    for (const effect of effects) {
      this.effects.push(effect);
      if (effect.kind === 'device') this.#carryOut(effect.command);
    }
    return effects;
  }

  /** A message of a device, and whatever the engine wants to do about it at once. */
  device(event: DeviceEvent): void {
    this.feed({ at: this.now, kind: 'device', event });
    this.runTo(this.now);
  }

  /** Gives a command; returns the code of the refusal, or null. */
  command(command: Command, by = 'Ada'): string | null {
    for (const effect of this.feed({ at: this.now, kind: 'command', by, command })) {
      if (effect.kind === 'answer') return effect.refusal?.code ?? null;
    }
    throw new Error('a command was not answered');
  }

  /** Lets time pass; the engine is woken when it wants to be, and devices answer in time. */
  wait(span: number): void {
    this.runTo(this.now + span);
  }

  runTo(until: number): void {
    for (let next = this.nextAt(); next !== null && next <= until; next = this.nextAt()) {
      this.now = Math.max(this.now, next);
      const answer = this.#takeAnswer();
      if (answer === null) this.feed({ at: this.now, kind: 'deadline' });
      else this.device(answer);
    }
    this.now = until;
  }

  /** When something happens next by itself, ms; null: never. */
  nextAt(): number | null {
    const engine = nextDeadline(this.state);
    const device = this.#pending[0]?.at ?? null;
    if (engine === null || device === null) return engine ?? device;
    return Math.min(engine, device);
  }

  /** Sections by name become occupied, one after the other. */
  occupied(...sections: readonly string[]): void {
    for (const name of sections) {
      this.device({ kind: 'section', section: this.sectionIndex(name), occupied: true });
    }
  }

  free(...sections: readonly string[]): void {
    for (const name of sections) {
      this.device({ kind: 'section', section: this.sectionIndex(name), occupied: false });
    }
  }

  /** The decoders of these short addresses are read in a section. */
  report(section: string, ...numbers: readonly number[]): void {
    const decoders = numbers.map((number) => ({ kind: 'short', number }) as const);
    this.device({ kind: 'report', section: this.sectionIndex(section), decoders });
  }

  drive(element: string, position: string | null): void {
    this.device({ kind: 'drive', element: this.elementIndex(element), position });
  }

  /** Power is raised and every section speaks: these are occupied, all others free; then detection settles. */
  lineUp(...occupied: readonly string[]): void {
    this.command({ kind: 'power-up' });
    this.wait(100);
    this.world.layout.sections.forEach(({ id }) => {
      if (occupied.includes(id)) this.occupied(id);
      else this.free(id);
    });
    this.wait(2500);
  }

  elementIndex(id: string): number {
    return indexOf(this.world.layout, id);
  }

  sectionIndex(id: string): number {
    const found = this.world.layout.sectionByName.get(id);
    if (found === undefined) throw new Error(`no section ${id}`);
    return found;
  }

  trainIndex(id: string): number {
    const found = this.world.stock.trainByName.get(id);
    if (found === undefined) throw new Error(`no train ${id}`);
    return found;
  }

  /** A heading from `block>end`. */
  heading(place: string): number {
    const [block = '', towards] = place.split('>');
    return headingOf(this.elementIndex(block), towards === 'a' ? 'a' : 'b');
  }

  train(id: string): TrainState {
    return this.state.trains[this.trainIndex(id)]!;
  }

  section(id: string): SectionState {
    return this.state.sections[this.sectionIndex(id)]!;
  }

  element(id: string): ElementState {
    return this.state.elements[this.elementIndex(id)]!;
  }

  signal(place: string): string | null {
    return this.state.signals[this.heading(place)]!;
  }

  row(train: string): LineUpRow {
    return lineUpRow(this.world, this.state, this.trainIndex(train));
  }

  /** The ids of the elements a train holds, from its rear. */
  path(id: string): string[] {
    return this.train(id).path.map(({ element }) => this.world.layout.elements[element]!.id);
  }

  /** Ids of all elements held by a train. */
  heldBy(id: string): string[] {
    const index = this.trainIndex(id);
    return this.world.layout.elements
      .filter((element) => this.state.elements[element.index]!.holder === index)
      .map((element) => element.id);
  }

  /** Texts of the alarms that stand. */
  alarms(): string[] {
    return this.state.alarms.filter((alarm) => alarm.clearedAt === null).map(({ text }) => text);
  }

  /** The speed step last sent to a decoder, or null if none was. */
  speedOf(number: number): number | null {
    const last = this.sent.findLast(
      ({ command }) => command.kind === 'set-speed' && command.address.number === number,
    );
    return last?.command.kind === 'set-speed' ? last.command.step : null;
  }

  /** What was sent since `count` commands had been. */
  sentSince(count: number): DeviceCommand[] {
    return this.sent.slice(count).map(({ command }) => command);
  }

  #carryOut(command: DeviceCommand): void {
    this.sent.push({ at: this.now, command });
    if (command.kind === 'set-power' && this.powerAnswers) {
      const state = command.on ? 'on' : 'off';
      this.#answer(50, { kind: 'power', district: command.district, state });
    }
    if (command.kind === 'ask-state') this.#tellState();
    if (command.kind !== 'set-drive' || this.stuck.has(command.element)) return;
    if (this.world.layout.elements[command.element]!.drive!.feedback !== true) return;
    this.#answer(THROW, { kind: 'drive', element: command.element, position: command.position });
  }

  /** Buses say that they live, drives with feedback that they lie as they were last told to. */
  #tellState(): void {
    for (const { id } of this.world.layout.file.buses) {
      this.#answer(50, { kind: 'bus', bus: id, alive: true });
    }
    for (const { index, drive } of this.world.layout.elements) {
      if (drive?.feedback !== true) continue;
      const last = this.sent.findLast(
        ({ command }) => command.kind === 'set-drive' && command.element === index,
      );
      if (last?.command.kind !== 'set-drive') continue;
      this.#answer(50, { kind: 'drive', element: index, position: last.command.position });
    }
  }

  #answer(delay: number, event: DeviceEvent): void {
    this.#pending.push({ at: this.now + delay, event });
    this.#pending.sort((a, b) => a.at - b.at);
  }

  #takeAnswer(): DeviceEvent | null {
    const first = this.#pending[0];
    if (first === undefined || first.at > this.now) return null;
    this.#pending.shift();
    return first.event;
  }
}
