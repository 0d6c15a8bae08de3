import { describe, expect, it } from 'vitest';
import { indexOf } from '../testing/edit.js';
import { block, bufferStop, layoutOf, passingLoop, turnout } from '../testing/layout-parts.js';
import { mm } from '../units.js';
import { compileLayout } from './compile-layout.js';
import { headingOf } from './layout.js';
import { fitsTrack, longestIn, slotsTaken, standingPlaces, standingRoom } from './standing-room.js';

describe('standingRoom', () => {
  it('lies between the stop mark ahead and the fouling point behind', () => {
    const layout = compileLayout(passingLoop());
    const track = indexOf(layout, 'S');
    expect(standingRoom(layout, [track], headingOf(track, 'b'))).toBe(1200 - 160 - 100);
    const line = indexOf(layout, 'W');
    expect(standingRoom(layout, [line], headingOf(line, 'b'))).toBe(1500 - 60);
  });

  it('reaches back over the slots behind, as far as the track goes', () => {
    const layout = compileLayout(
      layoutOf(
        [block('A'), turnout('T'), block('X'), block('S1', 500), block('S2', 600), bufferStop('E')],
        ['A.b T.stem', 'T.straight X.a', 'T.diverging S1.a', 'S1.b S2.b', 'S2.a E.a'],
      ),
    );
    const [s1, s2] = [indexOf(layout, 'S1'), indexOf(layout, 'S2')];
    expect(standingRoom(layout, [s1, s2], headingOf(s2, 'a'))).toBe(600 - 60 + 500 - 100);
    expect(standingRoom(layout, [s1, s2], headingOf(s1, 'b'))).toBe(500 - 60 - 100);
    // Outwards: the front stops short of the turnout, the tail reaches to the buffer stop.
    expect(standingRoom(layout, [s2, s1], headingOf(s1, 'a'))).toBe(500 - 160 + 600);
    expect(fitsTrack(layout, [s1, s2], mm(940))).toBe(true);
    expect(fitsTrack(layout, [s1, s2], mm(941))).toBe(false);
  });

  it('counts only directions in which trains may run', () => {
    const layout = compileLayout(
      layoutOf(
        [
          block('A'),
          turnout('T'),
          block('S', 1000, { directions: 'b-to-a', stopMarks: { b: mm(10) } }),
          block('X'),
        ],
        ['A.b T.stem', 'T.straight X.a', 'T.diverging S.a'],
      ),
    );
    const track = indexOf(layout, 'S');
    expect(standingRoom(layout, [track], headingOf(track, 'b'))).toBe(890);
    expect(fitsTrack(layout, [track], mm(840))).toBe(true);
    expect(fitsTrack(layout, [track], mm(841))).toBe(false);
    expect(longestIn(layout, [track])).toBe(840);
    expect(standingPlaces(layout, [track], 840)).toEqual([[track]]);
    expect(standingPlaces(layout, [track], 841)).toEqual([]);
  });
});

describe('slots', () => {
  const blocks = ['S1', 'S2', 'S3'];
  const layout = compileLayout(
    layoutOf(
      [
        block('A'),
        turnout('T'),
        block('X'),
        ...blocks.map((id) => block(id, 600)),
        bufferStop('E'),
      ],
      ['A.b T.stem', 'T.straight X.a', 'T.diverging S1.a', 'S1.b S2.a', 'S2.b S3.a', 'S3.b E.a'],
    ),
  );
  const [s1, s2, s3] = blocks.map((id) => indexOf(layout, id)) as [number, number, number];

  it('are taken one after another from the front, as many as a train needs', () => {
    const inwards = (length: number) =>
      slotsTaken(layout, [s1, s2, s3], headingOf(s3, 'b'), length);
    expect(inwards(540)).toEqual([s3]);
    expect(inwards(541)).toEqual([s3, s2]);
    expect(inwards(1141)).toEqual([s3, s2, s1]);
    expect(inwards(1641)).toBeNull();
  });

  it('leave room for another beside a train of two, at either end', () => {
    const places = standingPlaces(layout, [s1, s2, s3], 700);
    expect(places.map((place) => [...place].sort((a, b) => a - b))).toEqual([
      [s1, s2],
      [s2, s3],
    ]);
    expect(standingPlaces(layout, [s1, s2, s3], 400)).toEqual([[s1], [s2], [s3]]);
  });
});
