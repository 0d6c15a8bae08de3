import { blockOf, endAhead, type DeviceCommand, type World } from '@blockbell/railway';
import type { Body, Pace, Stretch } from './body.js';
import { sectionsUnder, turnBody } from './body.js';
import { enter } from './enter.js';
import { settle, type Traits } from './motion.js';
import type { SmallDrive, SmallState } from './small-state.js';
import { SmallTrack } from './small-track.js';
import { tellReadings, tellAll } from './tell.js';

/** Time until a district says that it has power, or none; common practice, no source, ms. */
const POWER_SPEAKS = 50;

/** What does not change of a small world: the track, and how trains run at either end of what was measured of them. */
export class SmallWorld {
  readonly track: SmallTrack;
  readonly #traits: Record<Pace, readonly Traits[]>;

  constructor(readonly world: World) {
    this.track = new SmallTrack(world.layout);
    this.#traits = { long: this.#all('long'), short: this.#all('short') };
  }

  traits(train: number, { pace }: Body): Traits {
    return this.#traits[pace][train]!;
  }

  /** Everything stored where the timetable says, without power. */
  begin(paces: readonly Pace[]): SmallState {
    const { layout, timetable } = this.world;
    return {
      now: 0,
      bodies: paces.map((pace, train) => {
        const heading = timetable.storedPlaces[train]!;
        return heading === null ? null : this.#stored(heading, pace);
      }),
      drives: layout.elements.map(({ drive }) =>
        drive === null ? null : { position: drive.positions[0]!, moving: null },
      ),
      powered: layout.districts.map(() => false),
      readings: layout.sections.map(() => null),
      dropouts: [],
      messages: [],
      mishaps: [],
    };
  }

  /** Lets time pass up to a moment at which nothing of the small world happens before. */
  advance(state: SmallState, at: number): void {
    state.now = at;
    state.bodies.forEach((body, train) => {
      if (body !== null && body.since < at) settle(body, this.traits(train, body), at);
    });
  }

  /** The body's head or tail has crossed a cut, or a command takes effect. */
  moveOn(state: SmallState, train: number): void {
    const body = state.bodies[train]!;
    const traits = this.traits(train, body);
    for (let order = body.orders[0]; order !== undefined && order.at <= state.now;) {
      body.orders.shift();
      if (order.frontLeads !== body.frontLeads && body.speed === 0) turnBody(body, traits);
      body.target = order.target;
      order = body.orders[0];
    }
    body.reached = body.head;
    const end = body.line.at(-1)!.end;
    if (body.head > end) enter(this, state, train);
    const tail = body.head - traits.length;
    while (body.line.length > 1 && body.line[0]!.end <= tail) body.line.shift();
    tellReadings(this, state);
  }

  /** The stop mark ahead of a head that stands in a block, µm along the body's line; null elsewhere. */
  markAhead({ line }: Body): number | null {
    const { element, leg, along, end } = line.at(-1)!;
    const { kind, legs, stopMarks } = this.world.layout.elements[element]!;
    if (kind !== 'block') return null;
    const towards = along ? legs[leg]!.to : legs[leg]!.from;
    return end - stopMarks[towards === 'b' ? 0 : 1] * 1000;
  }

  /** A standing train is pushed by hand, within the block its head is in, up to the stop mark. */
  push(state: SmallState, train: number): void {
    const body = state.bodies[train]!;
    body.head = this.markAhead(body)!;
    this.moveOn(state, train);
  }

  /** What the engine sends to the layout. */
  obey(state: SmallState, command: DeviceCommand): void {
    switch (command.kind) {
      case 'set-speed':
        return this.#order(state, command);
      case 'stop-all':
        state.bodies.forEach((body, train) => {
          if (body !== null) this.#send(state, train, 0, body.frontLeads);
        });
        return;
      case 'set-drive':
        return this.#throw(state, command.element, command.position);
      case 'set-power':
        return this.#switch(state, command.district, command.on);
      case 'ask-state':
        return tellAll(this, state);
      case 'set-aspect':
    }
  }

  /** The sections a train has axles in. */
  under(state: SmallState, train: number): number[] {
    const body = state.bodies[train]!;
    return body === null ? [] : sectionsUnder(this.track, body, this.traits(train, body));
  }

  /** By section: whether any train has axles in it. */
  occupied(state: SmallState): boolean[] {
    const found = this.world.layout.sections.map(() => false);
    state.bodies.forEach((_, train) => {
      for (const section of this.under(state, train)) found[section] = true;
    });
    return found;
  }

  #all(pace: Pace): Traits[] {
    const { stock, models } = this.world;
    return stock.trains.map((train, index) => {
      const { length, acceleration, braking, speedSpread, brakingSpread } = train;
      const wider = Math.max(speedSpread, brakingSpread);
      const sign = pace === 'long' ? 1 : -1;
      const round = pace === 'long' ? Math.floor : Math.ceil;
      const { delay } = models[index]!;
      return {
        length: length * 1000,
        acceleration: round((acceleration * (1000 + sign * wider)) / 1000),
        braking: (braking * (1000 - sign * brakingSpread)) / 1000,
        speed: 1000 + sign * speedSpread,
        fasterAfter: pace === 'long' ? 0 : delay,
        slowerAfter: pace === 'long' ? delay : 0,
      };
    });
  }

  #stored(heading: number, pace: Pace): Body {
    const element = this.world.layout.elements[blockOf(heading)]!;
    const towards = endAhead(heading);
    const leg = element.legs.findIndex(({ to, from }) => to === towards || from === towards);
    const { length } = element.legs[leg]!;
    const line: Stretch[] = [
      {
        element: element.index,
        leg,
        along: element.legs[leg]!.to === towards,
        start: 0,
        end: length * 1000,
      },
    ];
    const head = (length - element.stopMarks[heading & 1]!) * 1000;
    const still = { head, reached: head, speed: 0, target: 0, since: 0 };
    return { pace, line, frontLeads: true, ...still, orders: [] };
  }

  #order(
    state: SmallState,
    { address, forward, step }: DeviceCommand & { kind: 'set-speed' },
  ): void {
    const { trains } = this.world.stock;
    trains.forEach(({ locomotives }, train) => {
      const it = locomotives.find(
        ({ file }) => file.address.kind === address.kind && file.address.number === address.number,
      );
      const body = state.bodies[train];
      if (it === undefined || body === null || body === undefined) return;
      const [lowest, highest] = forward ? it.file.speedTable.forward : it.file.speedTable.reverse;
      const rise = (highest!.speed - lowest!.speed) / (highest!.step - lowest!.step);
      const told = step === 0 ? 0 : lowest!.speed + rise * (step - lowest!.step);
      const target = Math.round(told * this.traits(train, body).speed);
      this.#send(state, train, target, forward === it.facingForward);
    });
  }

  #send(state: SmallState, train: number, target: number, frontLeads: boolean): void {
    const body = state.bodies[train]!;
    if (!state.powered.every((on) => on)) return;
    const { fasterAfter, slowerAfter } = this.traits(train, body);
    const last = body.orders.at(-1);
    const before = last?.target ?? body.target;
    if (target === before && frontLeads === (last?.frontLeads ?? body.frontLeads)) return;
    const at = state.now + (target > before ? fasterAfter : slowerAfter);
    body.orders.push({ at: Math.max(at, last?.at ?? 0), target, frontLeads });
  }

  #throw(state: SmallState, element: number, to: string): void {
    const drive: SmallDrive = state.drives[element]!;
    const { throwTime } = this.world.layout.elements[element]!.drive!;
    drive.moving = { to, from: state.now + 1, until: state.now + throwTime };
  }

  /** Without power every train stops dead: the small world's trains have no stored energy. */
  #switch(state: SmallState, district: number, on: boolean): void {
    if (state.powered[district] === on) return;
    state.powered[district] = on;
    const at = state.now + POWER_SPEAKS;
    const lane = 'power';
    state.readings = state.readings.map(() => null);
    state.messages = state.messages.filter(
      ({ event: { kind } }) => kind !== 'section' && kind !== 'report',
    );
    state.dropouts = [];
    const event = { kind: 'power', district, state: on ? 'on' : 'off' } as const;
    state.messages.push({ event, from: at, until: at, lane });
    if (on) return tellReadings(this, state, { at, lane });
    for (const body of state.bodies) {
      if (body !== null) Object.assign(body, { speed: 0, target: 0, orders: [] });
    }
  }
}
