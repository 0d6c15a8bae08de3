import { compileWorld } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { junction, passingLoop } from '../railways/through-lines.js';
import { nextOf } from './body.js';
import { touchOf } from './contact.js';
import type { SmallState } from './small-state.js';
import { SmallWorld } from './small-world.js';

function smallWorld(make = junction): { small: SmallWorld; state: SmallState } {
  const { layout, stock, timetable } = make();
  const small = new SmallWorld(compileWorld(layout, stock, timetable));
  const state = small.begin(['long', 'short']);
  small.obey(state, { kind: 'set-power', district: 0, on: true });
  state.messages = [];
  return { small, state };
}

/** Decoder 3 is P's, 4 the other train's. */
const run = (small: SmallWorld, state: SmallState, number: number, step: number): void =>
  small.obey(state, { kind: 'set-speed', address: { kind: 'short', number }, forward: true, step });

/** Lets a train run until nothing more happens to it, or so often. */
function follow(small: SmallWorld, state: SmallState, train: number, times: number): void {
  for (let count = 0; count < times; count++) {
    const body = state.bodies[train]!;
    const at = nextOf(small.track, body, small.traits(train, body));
    if (at === null) return;
    small.advance(state, at);
    small.moveOn(state, train);
  }
}

const section = (small: SmallWorld, id: string): number =>
  small.world.layout.sectionByName.get(id)!;
const element = (small: SmallWorld, id: string): number =>
  small.world.layout.elementByName.get(id)!;

describe('the small world', () => {
  it('tells of a train entering and leaving sections', () => {
    const { small, state } = smallWorld();
    state.drives[element(small, 'T')]!.position = 'straight';
    run(small, state, 3, 50);
    follow(small, state, 0, 6);
    const told = state.messages.flatMap(({ event }) =>
      event.kind === 'section'
        ? [`${small.world.layout.sections[event.section]!.id} ${event.occupied}`]
        : [],
    );
    expect(told.slice(0, 4)).toEqual(['T-s true', 'A-1 false', 'C-1 true', 'C-2 true']);
  });

  it('gives each message its worst delay, and never lets one overtake another of its section', () => {
    const { small, state } = smallWorld();
    run(small, state, 3, 50);
    follow(small, state, 0, 4);
    for (const { event, from, until } of state.messages) {
      if (event.kind === 'section') expect(until - from).toBe(event.occupied ? 50 : 100);
    }
    const lanes = new Map<string, number>();
    for (const { lane, until } of state.messages) {
      expect(until).toBeGreaterThanOrEqual(lanes.get(lane) ?? 0);
      lanes.set(lane, until);
    }
  });

  it('notes a turnout run through against its position, and the end of the track', () => {
    const { small, state } = smallWorld();
    state.drives[element(small, 'T')]!.position = 'straight';
    run(small, state, 4, 50);
    follow(small, state, 1, 30);
    expect(state.mishaps.map(({ text }) => text)).toEqual([
      'Q ran into T that lies straight',
      'Q struck the end of the track at D',
    ]);
  });

  it('notes a turnout that moves as a train runs into it', () => {
    const { small, state } = smallWorld();
    run(small, state, 3, 50);
    small.obey(state, { kind: 'set-drive', element: element(small, 'T'), position: 'straight' });
    follow(small, state, 0, 2);
    expect(state.mishaps).toEqual([{ invariant: 2, text: 'P ran into T while it moves' }]);
  });

  it('finds trains that overlap, and one that fouls a turnout with another on it', () => {
    const { small, state } = smallWorld(passingLoop);
    expect(touchOf(small, state)).toEqual([]);
    const [one, other] = [state.bodies[0]!, state.bodies[1]!];
    const line = { element: element(small, 'M'), leg: 0, along: true, start: 0, end: 750_000 };
    Object.assign(one, { line: [line], head: 300_000 });
    Object.assign(other, { line: [line], head: 479_000 });
    expect(touchOf(small, state)).toEqual(['P and G touch at M']);
    // 60 mm behind the port a vehicle still fouls the diverging leg.
    const diverging = small.world.layout.elements[element(small, 'TW')]!.legs.findIndex(
      ({ position }) => position === 'diverging',
    );
    const leg = {
      element: element(small, 'TW'),
      leg: diverging,
      along: true,
      start: 0,
      end: 200_000,
    };
    Object.assign(one, { line: [line], head: 239_000 });
    Object.assign(other, { line: [leg], head: 190_000 });
    expect(touchOf(small, state)).toEqual(['P and G touch at TW']);
    Object.assign(one, { head: 241_000 });
    expect(touchOf(small, state)).toEqual([]);
  });

  it('says nothing of a section that a train has lost contact with, until it comes back', () => {
    const { small, state } = smallWorld();
    const lost = section(small, 'A-1');
    state.dropouts.push({ section: lost, from: 0, until: 100 });
    run(small, state, 3, 50);
    follow(small, state, 0, 1);
    expect(state.messages).toContainEqual(
      expect.objectContaining({ event: { kind: 'section', section: lost, occupied: false } }),
    );
  });
});
