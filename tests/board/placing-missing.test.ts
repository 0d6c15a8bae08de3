import { EXAMPLE_NAMES, exampleFiles } from '@blockbell/examples';
import type { ElementFile, LayoutFile } from '@blockbell/railway';
import { validateLayout } from '@blockbell/railway';
import { generateRailway } from '@blockbell/simulation';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { missingPlaces, withPlaces } from '@blockbell/drawing';
import { segmentsOf } from '../../libs/drawing/src/fit-between.js';
import { meet } from '../../libs/drawing/src/segments.js';
import { trackNet } from '../../libs/drawing/src/track-net.js';

const placeMissing = (file: LayoutFile): LayoutFile => withPlaces(file, missingPlaces(file));

/** The layout without the places of the elements that are chosen by number. */
const stripped = (
  file: LayoutFile,
  chosen: (element: number) => boolean = () => true,
): LayoutFile => ({
  ...file,
  elements: file.elements.map((element, index) => {
    if (!chosen(index)) return element;
    const { draw: _, ...rest } = element;
    return rest satisfies ElementFile;
  }),
});

const generated = (seed: number, sections: number, singleLineShare: number): LayoutFile =>
  generateRailway({ seed, sections, trains: 1, services: 4, singleLineShare }).layout;

/** What is drawn, and how its lines lie to each other. */
function pictureOf(file: LayoutFile) {
  const net = trackNet(file);
  const at = new Map(
    net.ports.map(({ element, name }, port) => {
      const point = file.elements[element]?.draw?.ports[name];
      if (!point) throw new Error(`${file.elements[element]?.id ?? ''}.${name} has no place`);
      return [port, point] as const;
    }),
  );
  const via = new Map(
    file.elements.flatMap(({ draw }, element) => (draw?.via ? [[element, draw.via] as const] : [])),
  );
  const levels = file.elements.map(({ draw }) => draw?.level);
  const segments = segmentsOf(net, { at, via }, [...file.elements.keys()]).toSorted(
    (p, q) => Math.min(p.from[0], p.to[0]) - Math.min(q.from[0], q.to[0]),
  );
  const met = { crossing: [] as string[], covering: [] as string[] };
  segments.forEach((one, index) => {
    const right = Math.max(one.from[0], one.to[0]);
    for (let next = index + 1; next < segments.length; next += 1) {
      const other = segments[next];
      if (!other || Math.min(other.from[0], other.to[0]) > right) break;
      if (one.element === other.element || levels[one.element] !== levels[other.element]) continue;
      const how = meet(one, other);
      const pair = [one, other]
        .map(({ element }) => file.elements[element]?.id ?? '')
        .join(' and ');
      if (how !== 'apart') met[how].push(pair);
    }
  });
  const apart = net.ports.filter(({ mate }, port) => {
    const [p, q] = [at.get(port), at.get(mate)];
    return mate > port && p && q && Math.hypot(p[0] - q[0], p[1] - q[1]) > 0.01;
  });
  // Only a loop's far side may stand upright.
  const slanting = segments.filter(({ from, to, element }) => {
    const [dx, dy] = [Math.abs(to[0] - from[0]), Math.abs(to[1] - from[1])];
    const upright = dx < 0.01 && via.get(element)?.length === 4;
    return dy > 0.01 && Math.abs(dx - dy) > 0.01 && !upright;
  });
  return { net, at, met, apart, slanting };
}

const railways = fc.record({
  seed: fc.integer({ min: 1, max: 5000 }),
  sections: fc.integer({ min: 10, max: 400 }),
  share: fc.constantFrom(0, 0.3, 0.6, 1),
});

describe('a layout without positions', () => {
  it('is drawn whole, in rows and at 45°, nothing over anything else, the same every time', () => {
    fc.assert(
      fc.property(railways, ({ seed, sections, share }) => {
        const file = stripped(generated(seed, sections, share));
        const placed = placeMissing(file);
        expect(placeMissing(file)).toEqual(placed);
        const { at, met, slanting } = pictureOf(placed);
        expect([...at.values()].flat().every(Number.isFinite)).toBe(true);
        expect(met).toEqual({ crossing: [], covering: [] });
        expect(slanting).toEqual([]);
        expect(validateLayout(placed)).toEqual([]);
      }),
      { numRuns: 25 },
    );
  });

  it('keeps joined track together, but for the ends of its lines and its levels', () => {
    fc.assert(
      fc.property(railways, ({ seed, sections, share }) => {
        const placed = placeMissing(stripped(generated(seed, sections, share)));
        const { at, apart } = pictureOf(placed);
        const lines = new Set([...at.values()].map(([, y]) => Math.round(y / 150))).size;
        // Two tracks at most lead from a line or a level to the next.
        expect(apart.length).toBeLessThanOrEqual(2 * lines);
      }),
      { numRuns: 15 },
    );
  });

  it('is no different if the file names its elements in another order', () => {
    const file = stripped(generated(7, 120, 0.5));
    const turned = { ...file, joins: file.joins.map(([one, other]) => [other, one] as const) };
    const [placed, again] = [placeMissing(file), placeMissing(turned)];
    expect(again.elements).toEqual(placed.elements);
  });

  it.each(EXAMPLE_NAMES)('of the example %s reads as a diagram', (name) => {
    const file = JSON.parse(exampleFiles(name).layout) as LayoutFile;
    const { met, slanting, apart } = pictureOf(placeMissing(stripped(file)));
    expect(met).toEqual({ crossing: [], covering: [] });
    expect(slanting).toEqual([]);
    expect(apart.length).toBeLessThanOrEqual(6);
  });

  it('of 2,040 sections is placed in less than a second', () => {
    const file = stripped(generated(3, 2040, 0.4));
    placeMissing(file);
    // Time of the processor, which other work on the machine doesn't lengthen.
    const start = process.cpuUsage();
    const placed = placeMissing(file);
    expect(process.cpuUsage(start).user / 1000).toBeLessThan(1000);
    const { met, slanting } = pictureOf(placed);
    expect(met).toEqual({ crossing: [], covering: [] });
    expect(slanting).toEqual([]);
  });

  it('has staging yards on its hidden level and stations in the order of the line', () => {
    const { elements, stations, levels } = placeMissing(stripped(generated(3, 150, 0.5)));
    const drawOf = (id: string | undefined) => elements.find((it) => it.id === id)?.draw;
    for (const { kind, tracks } of stations) {
      const level = levels.find(({ id }) => id === drawOf(tracks[0]?.blocks[0])?.level);
      expect(level?.hidden).toBe(kind === 'staging-yard');
    }
    const open = stations.filter(({ kind }) => kind !== 'staging-yard');
    const places = open.map(({ tracks }) => drawOf(tracks[0]?.blocks[0])?.ports['a'] ?? [0, 0]);
    const reading = places.toSorted((p, q) => Math.round((p[1] - q[1]) / 150) || p[0] - q[0]);
    expect(reading).toEqual(places);
  });
});

describe('a layout with some positions', () => {
  const file = JSON.parse(exampleFiles('demo').layout) as LayoutFile;

  it('keeps what is given and joins what is missing to it', () => {
    fc.assert(
      fc.property(fc.infiniteStream(fc.integer({ min: 0, max: 3 })), (chances) => {
        const missing = new Set(
          file.elements.flatMap((_, index) => {
            const { value } = chances.next();
            return value === 0 ? [index] : [];
          }),
        );
        const placed = placeMissing(stripped(file, (element) => missing.has(element)));
        placed.elements.forEach((element, index) => {
          if (!missing.has(index)) expect(element).toBe(file.elements[index]);
        });
        const given = pictureOf(file).apart.length;
        const { at, apart } = pictureOf(placed);
        expect([...at.values()].flat().every(Number.isFinite)).toBe(true);
        expect(apart.length).toBeLessThanOrEqual(given + 6);
      }),
      { numRuns: 30 },
    );
  });

  it('gets a single missing element back where it was, but for its bends', () => {
    const { at, net } = pictureOf(file);
    let kept = 0;
    file.elements.forEach(({ draw }, index) => {
      const placed = placeMissing(stripped(file, (element) => element === index)).elements[index];
      // Between two levels it may lie on either.
      if (placed?.draw?.level !== draw?.level) return;
      kept += 1;
      for (const [name, port] of net.portsOf[index] ?? []) {
        const [own, other] = [at.get(port), at.get(net.ports[port]?.mate ?? -1)];
        if (!own || !other || Math.hypot(own[0] - other[0], own[1] - other[1]) > 0.01) continue;
        expect([name, placed?.draw?.ports[name]]).toEqual([name, draw?.ports[name]]);
      }
    });
    expect(kept).toBeGreaterThan(file.elements.length - 6);
  });

  it('is left alone when nothing is missing', () => {
    expect(placeMissing(file)).toBe(file);
  });
});
