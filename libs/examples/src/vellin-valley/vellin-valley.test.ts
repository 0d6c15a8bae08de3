import { compileStock, type ElementKind } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { vellinValleyLayout } from './layout.js';
import { vellinValleyStock } from './stock.js';
import { vellinValleyTimetable } from './timetable.js';

const layout = vellinValleyLayout();
const stock = vellinValleyStock();
const timetable = vellinValleyTimetable();

describe('the layout of the demo', () => {
  const count = (kind: ElementKind): number =>
    layout.elements.filter((element) => element.kind === kind).length;
  const blockOf = (id: string) =>
    layout.elements.find((element) => element.kind === 'block' && element.id === id);

  it('is of honest size', () => {
    expect(count('block')).toBeGreaterThanOrEqual(60);
    expect(count('turnout')).toBeGreaterThanOrEqual(40);
    expect(layout.sections.length).toBeGreaterThanOrEqual(110);
    expect(count('crossing')).toBe(1);
    expect(count('double-slip')).toBe(1);
    expect(count('three-way')).toBe(1);
    expect(layout.districts.length).toBeGreaterThanOrEqual(3);
    expect(layout.buses.length).toBeGreaterThanOrEqual(2);
  });

  it('has detectors of several makes, some of which hear no decoder', () => {
    const used = new Set(layout.sections.map(({ detector }) => detector));
    const makes = layout.detectorTypes.filter(({ id }) => used.has(id));
    expect(makes.length).toBeGreaterThanOrEqual(2);
    expect(new Set(makes.map(({ reportsIdentity }) => reportsIdentity)).size).toBe(2);
  });

  it('has a hidden yard of eight through tracks and three dead ends', () => {
    const yard = layout.stations.filter(({ kind }) => kind === 'staging-yard');
    expect(yard).toHaveLength(1);
    const ends = (yard[0]?.tracks ?? []).map(({ blocks }) =>
      blocks.some((block) =>
        layout.joins.some(
          (join) =>
            join.some((port) => port.startsWith(`${block}.`)) &&
            join.some((port) => port.startsWith('Z')),
        ),
      ),
    );
    expect(ends.filter((dead) => !dead)).toHaveLength(8);
    expect(ends.filter((dead) => dead)).toHaveLength(3);
    const hidden = new Set(layout.levels.filter((level) => level.hidden).map(({ id }) => id));
    for (const { blocks } of yard[0]?.tracks ?? []) {
      expect(blocks.every((block) => hidden.has(blockOf(block)?.draw?.level ?? ''))).toBe(true);
    }
  });

  it('gives every block where a train may stop a section of its own to stop in', () => {
    const single = layout.elements.filter(
      (element) => element.kind === 'block' && element.detection.length < 2,
    );
    expect(single).toEqual([]);
  });

  it('is drawn with lines level, upright or at 45°', () => {
    for (const element of layout.elements) {
      const { a, b } = element.draw?.ports ?? {};
      if (element.kind !== 'block' || a === undefined || b === undefined) continue;
      const points = [a, ...(element.draw?.via ?? []), b];
      for (const [index, [x, y]] of points.slice(1).entries()) {
        const [fromX = 0, fromY = 0] = points[index] ?? [];
        const across = Math.abs(x - fromX);
        const along = Math.abs(y - fromY);
        const straight = across === 0 || along === 0 || across === along;
        expect(straight, `${element.id} from ${fromX},${fromY} to ${x},${y}`).toBe(true);
      }
    }
  });
});

describe('the stock of the demo', () => {
  const { trains } = compileStock(stock);

  it('has sixteen trains of all kinds', () => {
    expect(trains).toHaveLength(16);
    expect(new Set(trains.map(({ file }) => file.class)).size).toBe(4);
    expect(trains.filter(({ file }) => file.canReverse).length).toBeGreaterThanOrEqual(4);
    expect(trains.filter(({ answers }) => !answers)).toHaveLength(3);
    expect(trains.filter(({ unseenRear }) => unseenRear > 0)).toHaveLength(1);
    const doubleHeaded = trains.filter(
      ({ locomotives: [first, second] }) => first?.extent.to === second?.extent.from,
    );
    expect(doubleHeaded.map(({ file }) => file.id)).toEqual(['T61']);
  });

  it('has trains from a railcar to a long freight, at model speeds', () => {
    for (const { length, topSpeed } of trains) {
      expect(length).toBeGreaterThanOrEqual(300);
      expect(length).toBeLessThanOrEqual(1900);
      expect(topSpeed).toBeGreaterThanOrEqual(150);
      expect(topSpeed).toBeLessThanOrEqual(280);
    }
  });
});

describe('the timetable of the demo', () => {
  it('has at least fifty services in four hours at 6:1', () => {
    expect(timetable.services.length).toBeGreaterThanOrEqual(50);
    expect(timetable.clock).toEqual({ start: '06:00', end: '10:00', ratio: 6 });
    for (const { calls } of timetable.services)
      expect((calls.at(-1)?.arrive ?? '99') < '10:00').toBe(true);
  });

  it('lets trains meet on the single line', () => {
    const [eastbound, westbound] = (['dunmarrow', 'ostraven'] as const).map((end) =>
      timetable.services.filter(({ calls }) => {
        const halt = calls.findIndex(({ station }) => station === 'pellow');
        return halt >= 0 && calls[halt + 1]?.station === end;
      }),
    );
    const meets = (eastbound ?? []).flatMap((one) =>
      (westbound ?? []).filter((other) => {
        const [from = '', to = ''] = [one.calls[0]?.depart, one.calls.at(-1)?.arrive];
        const passes = other.calls.find(({ station }) => station === 'pellow')?.depart ?? '';
        return from < passes && passes < to;
      }),
    );
    expect(meets.length).toBeGreaterThanOrEqual(5);
  });

  it('stores every train on a track of its own', () => {
    const blocks = timetable.storedPlaces.map(({ block }) => block);
    expect(new Set(blocks).size).toBe(stock.trains.length);
  });

  it('wants every track of the yard', () => {
    const first = timetable.services.flatMap(({ calls }) => calls.map(({ tracks }) => tracks?.[0]));
    const yard = layout.stations.find(({ kind }) => kind === 'staging-yard')?.tracks ?? [];
    const wanted = new Set([...first, ...timetable.storedPlaces.map(({ block }) => block)]);
    expect(yard.map(({ id }) => id).filter((id) => !wanted.has(id))).toEqual([]);
  });

  it('sends no train that cannot reverse into a dead end', () => {
    const oneWay = new Set(
      stock.trains.filter(({ canReverse }) => !canReverse).map(({ id }) => id),
    );
    const dead = new Set(['X1', 'X2', 'X3', 'A5', 'B5', 'C1', 'C2', 'C5', 'E1', 'E2', 'E3']);
    const services = new Map(timetable.services.map((service) => [service.id, service]));
    const tracks = timetable.workings
      .filter(({ train }) => oneWay.has(train))
      .flatMap((working) => working.services.flatMap((id) => services.get(id)?.calls ?? []))
      .flatMap((call) => call.tracks ?? ['X1']);
    expect(tracks.filter((track) => dead.has(track))).toEqual([]);
  });
});
