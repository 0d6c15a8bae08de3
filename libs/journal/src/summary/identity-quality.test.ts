import { exampleFiles } from '@blockbell/examples';
import {
  compileWorld,
  createSession,
  type DeviceEvent,
  type LayoutFile,
  type StockFile,
  type TimetableFile,
} from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { IdentityQuality } from './identity-quality.js';

const { layout, stock, timetable } = exampleFiles('passing-loop');
const world = compileWorld(
  JSON.parse(layout) as LayoutFile,
  JSON.parse(stock) as StockFile,
  JSON.parse(timetable) as TimetableFile,
);
const section = world.layout.sectionByName.get('P1.2')!;
const three = world.stock.trainByName.get('T3')!;
const other = world.stock.trainByName.get('T47')!;
const decoderOf = (train: number) =>
  world.stock.trains[train]!.locomotives[0]!.file.address as { kind: 'short'; number: number };

/** A section that trains come into and leave, and what is heard of it. */
function watched() {
  const state = createSession(world);
  const quality = new IdentityQuality(world);
  state.session.begun = true;
  const tell = (at: number, event: DeviceEvent): void =>
    quality.see({ kind: 'device', at, event }, state);
  const occupy = (at: number, train: number, occupied: boolean): void => {
    Object.assign(state.sections[section]!, {
      claim: train,
      belief: occupied ? 'occupied' : 'clear',
    });
    tell(at, { kind: 'section', section, occupied });
  };
  return {
    state,
    comes: (at: number, train: number) => occupy(at, train, true),
    leaves: (at: number, train: number) => occupy(at, train, false),
    reports: (at: number, train: number) =>
      tell(at, { kind: 'report', section, decoders: [decoderOf(train)] } as DeviceEvent),
    detector: quality.detectors[section]!,
    locomotive: (train: number) => {
      const { kind, number } = decoderOf(train);
      return quality.locomotives.get(`${kind}:${number}`)!;
    },
  };
}

describe('what is counted of detectors and locomotives', () => {
  it('takes a report that comes before its section is told to be occupied for who comes', () => {
    const { comes, leaves, reports, detector, locomotive } = watched();
    comes(0, other);
    reports(100, other);
    leaves(10_000, other);
    reports(30_000, three);
    comes(30_040, three);
    expect(detector).toMatchObject({ visits: 2, read: 2, misread: 0 });
    expect(locomotive(three)).toEqual({ visits: 1, answered: 1 });
  });

  it('counts a report of who has left, and once as misread what nobody comes for', () => {
    const { comes, leaves, reports, detector } = watched();
    comes(0, other);
    leaves(10_000, other);
    reports(10_200, other);
    expect(detector).toMatchObject({ visits: 1, read: 1, misread: 0 });
    reports(20_000, three);
    comes(40_000, other);
    expect(detector).toMatchObject({ visits: 2, read: 1, misread: 1 });
  });

  it('asks nothing of an engine behind its cars that may not have got there', () => {
    const { state, comes, leaves, reports, detector, locomotive } = watched();
    state.trains[three]!.frontLeads = false;
    for (const at of [0, 20_000, 40_000, 60_000]) {
      comes(at, three);
      if (at === 60_000) reports(at + 100, three);
      leaves(at + 5000, three);
    }
    expect(detector).toMatchObject({ occupied: 4, visits: 1, read: 1 });
    expect(locomotive(three)).toEqual({ visits: 1, answered: 1 });
  });
});
