import type { LinePlan } from './railway-plan.js';
import type { RowPen } from './row-pen.js';
import type { TrackArea } from './track-area.js';

/** How long a block of line is drawn. */
export const BLOCK_WIDTH = 60;
const SHORTEST_PIECE = 250;

/** A track of a line: the letter in its blocks' names, and which way trains run there. */
const ONE_TRACK = [{ letter: 'l', directions: 'both' }] as const;
/** Trains keep to the right: eastbound ones on the lane to the right of the line's own. */
const TWO_TRACKS = [
  { letter: 'w', directions: 'b-to-a' },
  { letter: 'e', directions: 'a-to-b' },
] as const;

const tracksOf = (line: LinePlan): typeof ONE_TRACK | typeof TWO_TRACKS =>
  line.double ? TWO_TRACKS : ONE_TRACK;

/** Length of a block of the line in mm; a block of many sections is longer. */
export const lineBlockLength = (line: LinePlan): number =>
  Math.max(line.blockLength, SHORTEST_PIECE * Math.max(...line.pieces));

/** The ports at one end of the line, by lane. */
export const linePorts = (name: string, line: LinePlan, end: 'west' | 'east'): readonly string[] =>
  tracksOf(line).map(({ letter }) =>
    end === 'west' ? `${name}${letter}1.a` : `${name}${letter}${line.blocks}.b`,
  );

/** Draws the blocks of a line, going round to the next row where what follows would not fit. */
export function drawLine(
  area: TrackArea,
  pen: RowPen,
  name: string,
  line: LinePlan,
  widthOfNext: number,
): void {
  const tracks = tracksOf(line);
  for (let block = 0; block < line.blocks; block += 1) {
    const room = block === line.blocks - 1 ? widthOfNext : BLOCK_WIDTH;
    const ways = pen.fits(BLOCK_WIDTH + room)
      ? pen.straight(tracks.length, BLOCK_WIDTH)
      : pen.turn(tracks.length);
    tracks.forEach(({ letter, directions }, lane) => {
      const way = ways[lane];
      const count = line.pieces[lane * line.blocks + block];
      if (way === undefined || count === undefined) return;
      area.block(`${name}${letter}${block + 1}`, {
        ...way,
        pieces: equalPieces(lineBlockLength(line), count),
        directions,
      });
    });
  }
}

/** The length in `count` whole parts as equal as they can be. */
function equalPieces(length: number, count: number): number[] {
  const piece = Math.floor(length / count);
  const first = length - piece * (count - 1);
  return [first, ...Array.from({ length: count - 1 }, () => piece)];
}
