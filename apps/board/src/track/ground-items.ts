import { boxAround, cornersOf } from './box.js';
import type { Box } from './box.js';
import type { Diagram } from './diagram.js';
import type { Ground } from './grounds.js';
import type { Item, Pen } from './paint-layer.js';
import { platformsOf } from './station-areas.js';
import type { PlatformShape } from './station-areas.js';

/** Across a platform, and between the lines on hidden ground and across one, in the board's units. */
const PLATFORM = 0.36;
const HATCH = 0.7;
const HATCH_LINE = 0.12;
/** Lines on hidden ground stand at least this far apart, pixels. */
const LEAST_HATCH = 5;

/** What track lies on and beside. */
export const groundItems = (diagram: Diagram): readonly Item[] => [
  ...diagram.grounds.map(groundItem),
  ...platformsOf(diagram).map(platformItem),
];

const groundItem = ({ box, hidden }: Ground): Item => ({
  box,
  reach: 0,
  paint: (pen) => {
    const { context, inks } = pen;
    context.beginPath();
    context.roundRect(box.x, box.y, box.width, box.height, 0.6);
    context.fillStyle = inks.of(hidden ? '--ground-hidden' : '--ground');
    context.fill();
    if (!hidden) return;
    context.save();
    context.clip();
    hatch(pen, box);
    context.restore();
  },
});

/** Slanted lines, of which only those are drawn that are seen. */
function hatch({ context, scale, inks, area }: Pen, box: Box): void {
  let apart = HATCH;
  while (apart * scale < LEAST_HATCH) apart *= 2;
  const left = Math.max(box.x, area.x);
  const top = Math.max(box.y, area.y);
  const right = Math.min(box.x + box.width, area.x + area.width);
  const bottom = Math.min(box.y + box.height, area.y + area.height);
  // A line is where x + y is the same.
  const step = apart * Math.SQRT2;
  context.beginPath();
  for (let sum = Math.floor((left + top) / step) * step; sum <= right + bottom; sum += step) {
    context.moveTo(sum - top, top);
    context.lineTo(sum - bottom, bottom);
  }
  context.strokeStyle = inks.of('--ground-hatch');
  context.lineWidth = (HATCH_LINE * apart) / HATCH;
  context.lineCap = 'butt';
  context.setLineDash([]);
  context.stroke();
}

function platformItem({ middle: [x, y], angle, length }: PlatformShape): Item {
  const half: readonly [number, number] = [
    (Math.cos(angle) * length) / 2,
    (Math.sin(angle) * length) / 2,
  ];
  const box = boxAround([
    [x - half[0], y - half[1]],
    [x + half[0], y + half[1]],
    ...cornersOf({ x: x - PLATFORM / 2, y: y - PLATFORM / 2, width: PLATFORM, height: PLATFORM }),
  ]);
  return {
    box: box ?? { x, y, width: 0, height: 0 },
    reach: 4,
    paint: ({ context, inks }) => {
      context.save();
      context.translate(x, y);
      context.rotate(angle);
      context.beginPath();
      context.roundRect(-length / 2, -PLATFORM / 2, length, PLATFORM, 0.08);
      context.fillStyle = inks.of('--platform');
      context.fill();
      context.restore();
    },
  };
}
