import type { Locator, Page } from 'playwright-core';

export interface NamedBox {
  readonly name: string;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Where things are on the screen, each with its text. */
export const boxesOf = (things: Locator): Promise<NamedBox[]> =>
  things.evaluateAll((all) =>
    all.map((one) => {
      const { x, y, width, height } = one.getBoundingClientRect();
      return { name: one.textContent?.trim() ?? '', x, y, width, height };
    }),
  );

/** Pairs that overlap by more than `slack` pixels in both directions. */
export function overlaps(boxes: readonly NamedBox[], slack = 0.5): string[] {
  return boxes.flatMap((one, at) =>
    boxes
      .slice(at + 1)
      .filter(
        (other) =>
          shared(one.x, one.width, other.x, other.width) > slack &&
          shared(one.y, one.height, other.y, other.height) > slack,
      )
      .map((other) => `${describe(one)} and ${describe(other)}`),
  );
}

const shared = (from: number, length: number, otherFrom: number, otherLength: number): number =>
  Math.min(from + length, otherFrom + otherLength) - Math.max(from, otherFrom);

const describe = ({ name, x, y }: NamedBox): string =>
  `“${name}” at ${Math.round(x)},${Math.round(y)}`;

/** Everything with text on the track that is there to be read: names of levels, stations and tracks, trains' labels. */
export async function labelsOnTrack(page: Page): Promise<NamedBox[]> {
  const track = page.getByRole('region', { name: 'Track', exact: true });
  const names = await boxesOf(track.locator('text.level, text.station, text.track, text.block'));
  const trains = await boxesOf(
    track.getByRole('group', { name: 'Trains on the track' }).getByRole('button'),
  );
  const labels = await track
    .getByRole('group', { name: 'Trains on the track' })
    .getByRole('button')
    .evaluateAll((all) => all.map((one) => one.getAttribute('aria-label') ?? ''));
  return [
    ...names.map((box) => withoutLeading(box)),
    ...trains.map((box, index) => ({ ...box, name: labels[index] ?? '' })),
  ];
}

/** Above its capitals and below its line a text's box is empty: about a sixth of its height each. */
const withoutLeading = (box: NamedBox): NamedBox => ({
  ...box,
  y: box.y + box.height / 6,
  height: (box.height * 2) / 3,
});
