import { headingOf } from '@blockbell/railway/track';
import type { DeviceEvent, Heading, Layout, Stock } from '@blockbell/railway/track';
import type { Fault } from '../faults/fault.js';
import { createSimulatedLayout } from '../simulated-layout.js';
import type { SimulatedLayout } from '../simulated-layout.js';
import type { Delivery, IncidentKind } from '../state.js';
import { address } from './stock.js';

/** A simulated layout with handles that take names; all it ever said is kept. */
export interface Rig {
  readonly layout: Layout;
  readonly simulated: SimulatedLayout;
  readonly said: readonly Delivery[];
  /** Lets time pass until `at` ms. */
  until(at: number): void;
  /** Commands at the present moment. */
  run(locomotive: number, step: number, forward?: boolean): void;
  throwTo(element: string, position: string): void;
  power(on: boolean, district?: string): void;
  element(id: string): number;
  section(id: string): number;
  /** Edges of a section in order, as `[at, occupied]`. */
  edges(section: string): readonly (readonly [number, boolean])[];
  /** Reports of a section in order, as `[at, numbers of the decoders]`. */
  reports(section: string): readonly (readonly [number, readonly number[]])[];
  events<K extends DeviceEvent['kind']>(
    kind: K,
  ): readonly (Extract<DeviceEvent, { kind: K }> & { readonly at: number })[];
  incidents(): readonly IncidentKind[];
}

export interface RigSetup {
  readonly layout: Layout;
  readonly stock: Stock;
  /** By train: the block, and the end its front looks to; null: not on the layout. */
  readonly places: readonly (readonly [string, 'a' | 'b'] | null)[];
  readonly seed?: number;
  readonly faults?: readonly Fault[];
  /** Whether both districts are switched on at once (and 200 ms pass). */
  readonly powered?: boolean;
}

export const placeOf = (layout: Layout, [block, end]: readonly [string, 'a' | 'b']): Heading =>
  headingOf(layout.elementByName.get(block)!, end);

export function openRig({
  layout,
  stock,
  places,
  seed = 1,
  faults = [],
  powered = true,
}: RigSetup): Rig {
  const simulated = createSimulatedLayout({
    layout,
    stock,
    places: places.map((place) => (place === null ? null : placeOf(layout, place))),
    seed,
    faults,
  });
  const said: Delivery[] = [];
  const { truth } = simulated;
  const element = (id: string): number => layout.elementByName.get(id)!;
  const section = (id: string): number => layout.sectionByName.get(id)!;
  const until = (at: number): void => {
    said.push(...simulated.advance(at));
  };
  const power = (on: boolean, district?: string): void => {
    layout.districts.forEach((id, index) => {
      if (district !== undefined && id !== district) return;
      simulated.command(truth.now, { kind: 'set-power', district: index, on });
    });
  };
  if (powered) {
    power(true);
    until(200);
  }
  const events: Rig['events'] = (kind) =>
    said.flatMap(({ at, event }) => {
      type Wanted = Extract<DeviceEvent, { kind: typeof kind }>;
      return event.kind === kind ? [{ at, ...(event as Wanted) }] : [];
    });
  return {
    layout,
    simulated,
    said,
    until,
    run: (locomotive, step, forward = true) => {
      const command = { kind: 'set-speed', address: address(locomotive), forward, step } as const;
      simulated.command(truth.now, command);
    },
    throwTo: (id, position) => {
      simulated.command(truth.now, { kind: 'set-drive', element: element(id), position });
    },
    power,
    element,
    section,
    edges: (id) =>
      events('section')
        .filter((it) => it.section === section(id))
        .map(({ at, occupied }) => [at, occupied] as const),
    reports: (id) =>
      events('report')
        .filter((it) => it.section === section(id))
        .map(({ at, decoders }) => [at, decoders.map(({ number }) => number)] as const),
    events,
    incidents: () => truth.incidents.map(({ kind }) => kind),
  };
}
