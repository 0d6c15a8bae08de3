import type { Chain, Chains, Piece } from './chains.js';
import { isTurning } from './chains.js';
import type { Distance } from './distances.js';
import { LOOP, ROW } from './extents.js';
import type { Extent } from './extents.js';
import { portOf } from './track-net.js';

/** How long plain line and a station's track are drawn at least. */
const LINE = 60;
const TRACK = 132;
/** Room between what follows in one row without being joined, and beside a leg that crosses rows. */
const APART = 40;
const BESIDE = 18;

/** What keeps the elements of a piece apart along its rows. Places are joins and ends of track, by number. */
export class RowDistances {
  readonly places: number;
  readonly #piece: Piece;
  readonly #found: Chains;
  readonly #rows: readonly number[];
  readonly #stationTracks: ReadonlySet<string>;
  readonly #distances: Distance[] = [];

  constructor(piece: Piece, found: Chains, rows: readonly number[]) {
    this.#piece = piece;
    this.#found = found;
    this.#rows = rows;
    const { ports, file } = piece.net;
    this.places = ports.length + file.elements.length;
    this.#stationTracks = new Set(
      file.stations.flatMap(({ tracks }) => tracks.flatMap(({ blocks }) => blocks)),
    );
  }

  /** Joined ports share one place. */
  placeOf(port: number): number {
    const other = this.#piece.mate[port] ?? -1;
    return other < 0 ? port : Math.min(port, other);
  }

  /** Where a turning block comes back. */
  farEndOf(element: number): number {
    return this.#piece.net.ports.length + element;
  }

  /** The row of a port; between two rows where two legs meet. */
  rowOf(port: number): number {
    const own = this.#rowOfChain(port);
    const other = this.#piece.mate[port] ?? -1;
    if (own !== null) return own;
    const joined = this.#rowOfChain(other);
    if (joined !== null) return joined;
    const led = this.#found.chains.findIndex(
      ({ strands, from, to }) => strands.length === 0 && (from === port || to === port),
    );
    if (led >= 0) return this.#rows[led] ?? 0;
    const [here, there] = [this.#rowOfElement(port), this.#rowOfElement(other)];
    if (other < 0) return here + (here >= 0 ? 1 : -1);
    return (here + there) / 2;
  }

  /** Along the track alone. */
  alongTrack(): readonly Distance[] {
    for (const element of this.#piece.members) this.#throughElement(element);
    return this.#distances;
  }

  /** And between what lies in one row: `extents` tell what comes first. */
  all(extents: readonly Extent[], xOf: (port: number) => number): readonly Distance[] {
    this.alongTrack();
    this.#alongRows(extents, xOf);
    return this.#distances;
  }

  #rowOfChain(port: number): number | null {
    const chain = this.#found.chainOf[port] ?? -1;
    return chain < 0 ? null : (this.#rows[chain] ?? 0);
  }

  #rowOfElement(port: number): number {
    const { ports, portsOf } = this.#piece.net;
    for (const own of portsOf[ports[port]?.element ?? -1]?.values() ?? []) {
      const row = this.#rowOfChain(own);
      if (row !== null) return row;
    }
    return 0;
  }

  #put(kind: Distance['kind'], from: number, to: number, least: number): void {
    if (from !== to) this.#distances.push({ from, to, least, kind });
  }

  /** From one port of an element to another, in the direction in which it looks. */
  #between(kind: Distance['kind'], one: number, other: number, least: number): void {
    const [left, right] = this.#piece.facing.right[other] ? [one, other] : [other, one];
    this.#put(kind, this.placeOf(left), this.placeOf(right), least);
  }

  #throughElement(element: number): void {
    const { net, facing } = this.#piece;
    const found = net.file.elements[element];
    if (!found || found.kind === 'buffer-stop') return;
    const port = (name: string): number => portOf(net, element, name);
    if (found.kind === 'block' && facing.turning.has(element)) {
      const far = this.farEndOf(element);
      const tall = (Math.abs(this.rowOf(port('a')) - this.rowOf(port('b'))) * ROW) / 2;
      for (const end of [port('a'), port('b')]) {
        const place = this.placeOf(end);
        if (facing.right[end]) this.#put('track', far, place, LOOP + tall);
        else this.#put('track', place, far, LOOP + tall);
      }
    } else if (found.kind === 'block') {
      this.#between(
        'track',
        port('a'),
        port('b'),
        this.#stationTracks.has(found.id) ? TRACK : LINE,
      );
    } else if (found.kind === 'turnout' || found.kind === 'three-way') {
      for (const [name, leg] of net.portsOf[element] ?? []) {
        if (name === 'stem') continue;
        const rows = Math.abs(this.rowOf(leg) - this.rowOf(port('stem')));
        const straight = name === 'straight' || rows === 0;
        this.#between(straight ? 'short' : 'firm', port('stem'), leg, straight ? ROW : rows * ROW);
      }
    } else {
      const tall = Math.max(1, Math.abs(this.rowOf(port('a')) - this.rowOf(port('b')))) * ROW;
      this.#between('firm', port('a'), port('c'), tall);
      this.#between('firm', port('b'), port('d'), tall);
      this.#between('firm', port('a'), port('d'), tall);
    }
  }

  /** What follows in a row, and what a leg passes on its way across rows, keeps apart. */
  #alongRows(extents: readonly Extent[], xOf: (port: number) => number): void {
    const { chains } = this.#found;
    const byRow = new Map<number, number[]>();
    const startOf = (chain: number): number => extents[chain]?.from ?? 0;
    this.#rows.forEach((row, chain) => {
      const there = byRow.get(row);
      if (there) there.push(chain);
      else byRow.set(row, [chain]);
    });
    for (const inRow of byRow.values()) {
      inRow.sort((p, q) => startOf(p) - startOf(q) || p - q);
      inRow.forEach((chain, index) => {
        const next = inRow[index + 1];
        if (next === undefined) return;
        this.#put('order', this.#endOf(chains[chain]), this.#startOf(chains[next]), APART);
      });
    }
    chains.forEach(({ from, to }, chain) => {
      for (const leg of [from, to]) {
        if (leg < 0 || isTurning(this.#piece, leg)) continue;
        this.#besideLeg(leg, this.#rows[chain] ?? 0, byRow, { extents, xOf });
      }
    });
  }

  #besideLeg(
    leg: number,
    far: number,
    byRow: ReadonlyMap<number, readonly number[]>,
    { extents, xOf }: { extents: readonly Extent[]; xOf: (port: number) => number },
  ): void {
    const { net, facing } = this.#piece;
    const { chains } = this.#found;
    const stem = net.portsOf[net.ports[leg]?.element ?? -1]?.get('stem');
    if (stem === undefined) return;
    const near = this.rowOf(stem);
    const at = xOf(stem);
    const place = this.placeOf(stem);
    const onwards = facing.right[leg] ? 1 : -1;
    const step = Math.sign(far - near);
    if (step === 0) return;
    for (let row = near + step; row !== far; row += step) {
      const away = Math.abs(row - near) * ROW * onwards;
      const inRow = byRow.get(row) ?? [];
      const before = inRow.findLast((other) => (extents[other]?.to ?? 0) < at);
      const after = inRow.find((other) => (extents[other]?.from ?? 0) > at);
      if (before !== undefined)
        this.#put('order', this.#endOf(chains[before]), place, BESIDE - away);
      if (after !== undefined)
        this.#put('order', place, this.#startOf(chains[after]), BESIDE + away);
    }
  }

  #startOf(chain: Chain | undefined): number {
    const first = chain?.strands[0];
    if (!first) return this.placeOf(chain?.from ?? -1);
    if (first.left >= 0) return this.#loopedOr(chain.from, first.left);
    return this.#outerEnd(first.element, first.right);
  }

  #endOf(chain: Chain | undefined): number {
    const last = chain?.strands.at(-1);
    if (!last) return this.#loopedOr(chain?.to ?? -1, chain?.from ?? -1);
    if (last.right >= 0) return this.#loopedOr(chain?.to ?? -1, last.right);
    return this.#outerEnd(last.element, last.left);
  }

  /** The far end of the turning block that a row ends in, else the place of its own last port. */
  #loopedOr(joined: number, own: number): number {
    const element = this.#piece.net.ports[joined]?.element ?? -1;
    return isTurning(this.#piece, joined) ? this.farEndOf(element) : this.placeOf(own);
  }

  #outerEnd(element: number, port: number): number {
    return this.#piece.facing.turning.has(element) ? this.farEndOf(element) : this.placeOf(port);
  }
}
