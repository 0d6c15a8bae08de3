import { trackText } from '../session/explain.js';
import type { World } from '../session/world.js';
import type { DelayLedger, DelayParts, LostTime } from './delay-ledger.js';

const MINUTE = 60_000;

/** How late a train was when it was last due, and mostly why: `, 4 min late, mostly since …`; empty below a minute. */
export function lateText(world: World, ledger: DelayLedger): string {
  const late = ledger.last === null ? 0 : ledger.last.fast - ledger.last.booked;
  if (late < MINUTE) return '';
  return `, ${Math.floor(late / MINUTE)} min late, mostly since ${mainCause(world, ledger)}`;
}

/** What most of a delay comes from. */
function mainCause(world: World, { entry, own, lost }: DelayParts): string {
  const most = lost.reduce<LostTime | null>(
    (most, it) => (most === null || it.time > most.time ? it : most),
    null,
  );
  const waited = most?.time ?? 0;
  if (entry >= own && entry >= waited) return 'its service before was late';
  if (most === null || own >= waited) return 'it ran or stood longer than booked';
  return lostText(world, most);
}

/** A wait that cost time, in words that go on after “since” or “for”. */
function lostText({ stock, layout }: World, { train, place, why }: LostTime): string {
  const at = place < 0 ? '' : ` at ${trackText(layout, place)}`;
  return train < 0
    ? `${OWN_WAITS[why] ?? 'it was kept waiting'}${at}`
    : `it waited for ${stock.trains[train]!.file.label}${at}`;
}

/** By kind of a wait that no other train caused. */
const OWN_WAITS: Readonly<Record<string, string>> = {
  'departures-held': 'departures were held',
  'held-by-person': 'a person held it',
  'given-back': 'its way was given back',
  'in-hand': 'its crew kept it standing',
  halted: 'it was stopped',
  identity: 'it was not certain which train stood there',
  'not-confirmed': 'its place was not confirmed',
  'section-occupied': 'something stood in its way',
  possession: 'track was closed',
  'turnout-failed': 'a turnout was not proven',
  'turnout-moving': 'turnouts were set',
  'no-way': 'no way led on',
};
