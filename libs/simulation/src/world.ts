import type { Heading, Layout, Stock } from '@blockbell/railway/track';
import { createQueue } from './event-queue.js';
import { forkStream, nextBetween, nextSigned } from './random.js';
import type { LocomotiveInfo, Simulation, SimulationState, World } from './state.js';
import { buildTrack } from './track/track.js';
import { createBody, setDown } from './train/placing.js';
import { sendAt } from './wayside/messages.js';
import { nothingRead } from './wayside/sections.js';

/** Longest time until, at the start or when asked, buses and proven drives have told their state, ms. */
const ANNOUNCED_WITHIN = 50;

export function buildWorld(layout: Layout, stock: Stock): World {
  const locomotives = stock.trains.flatMap((train) =>
    train.locomotives.map(({ file, facingForward }): LocomotiveInfo => ({
      file,
      train: train.index,
      facingForward,
    })),
  );
  return {
    layout,
    stock,
    track: buildTrack(layout),
    locomotives,
    locomotiveByAddress: new Map(
      locomotives.map(({ file }, index) => [`${file.address.kind}:${file.address.number}`, index]),
    ),
  };
}

/**
 * The layout before power-up: everything off, every drive in its first position, the trains in their places. Buses
 * say that they live, drives with feedback how they lie.
 */
export function buildState(
  world: World,
  places: readonly (Heading | null)[],
  seed: number,
): SimulationState {
  const state = bareState(world, seed);
  const simulation = { world, state };
  places.forEach((heading, train) => {
    if (heading !== null) setDown(simulation, state.bodies[train]!, heading);
  });
  announce(simulation);
  return state;
}

/** Without trains, everything off, nothing said. */
export function bareState(world: World, seed: number): SimulationState {
  const { layout, stock } = world;
  return {
    now: 0,
    queue: createQueue(),
    delivered: [],
    bodies: stock.trains.map(({ index }) => createBody(world, index)),
    locomotives: world.locomotives.map(({ file }) => {
      const stream = forkStream(seed, `locomotive ${file.id}`);
      return {
        speedFactor: 1 + (nextSigned(stream) * file.spread.speed) / 100,
        rateFactor: 1 + (nextSigned(stream) * file.spread.braking) / 100,
        command: null,
        silenced: 0,
      };
    }),
    drives: layout.elements.map(({ id, drive }) =>
      drive === null
        ? null
        : {
            position: drive.positions[0]!,
            moving: null,
            move: 0,
            stuck: 0,
            stream: forkStream(seed, `drive ${id}`),
          },
    ),
    sections: layout.sections.map(({ id }) => ({
      axles: 0,
      locomotives: [],
      stuck: 0,
      dropouts: 0,
      misread: null,
      online: false,
      seen: false,
      readable: nothingRead(),
      edges: [],
      reports: [],
      touched: false,
      edgeStream: forkStream(seed, `edges ${id}`),
      reportStream: forkStream(seed, `reports ${id}`),
    })),
    districts: layout.districts.map((id) => ({
      commanded: false,
      shorted: false,
      losses: 0,
      bridged: 0,
      powered: false,
      lastMessage: 0,
      stream: forkStream(seed, `district ${id}`),
    })),
    buses: layout.file.buses.map(({ id }) => ({
      silences: 0,
      reportedSilent: false,
      stream: forkStream(seed, `bus ${id}`),
    })),
    holders: layout.elements.map(() => []),
    contacts: [],
    incidents: [],
    faults: [],
    touchedSections: [],
  };
}

/** Buses say that they live, drives with feedback how they lie; a silent bus says nothing, a moving drive when it arrives. */
export function announce(simulation: Simulation): void {
  const { state, world } = simulation;
  const now = Math.ceil(state.now);
  world.layout.file.buses.forEach(({ id }, index) => {
    const bus = state.buses[index]!;
    if (bus.silences > 0) {
      // Whoever asked has noticed the silence, and is told when it is over.
      bus.reportedSilent = true;
      return;
    }
    const at = now + nextBetween(bus.stream, 1, ANNOUNCED_WITHIN);
    sendAt(simulation, at, { kind: 'bus', bus: id, alive: true });
  });
  state.drives.forEach((drive, element) => {
    const feedback = world.layout.elements[element]!.drive?.feedback ?? false;
    if (drive === null || !feedback || drive.moving !== null) return;
    const at = now + nextBetween(drive.stream, 1, ANNOUNCED_WITHIN);
    sendAt(simulation, at, { kind: 'drive', element, position: drive.position });
  });
}
