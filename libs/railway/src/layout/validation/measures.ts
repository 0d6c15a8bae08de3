import { fault, placeOf } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { checkNotNegative, checkPositive, checkTwice } from '../../faults/numbers.js';
import { blockLength } from '../element-legs.js';
import type { BlockFile, Drive, ElementFile, LayoutFile } from '../layout-file.js';
import { foulingAhead } from '../elements.js';
import type { TrackGraph } from '../track-graph.js';
import { elementPlace } from './names.js';

/** Lengths, speeds and times that can't be, and stop marks where no train can stand. */
export const checkMeasures = (file: LayoutFile, graph: TrackGraph): Fault[] => [
  ...checkPositive('scaleRatio', 'the scale ratio', file.scaleRatio, ''),
  ...file.elements.flatMap((element, index) => {
    const place = elementPlace(file, index);
    return [
      ...measuresOf(element).flatMap(([what, value]) => checkPositive(place, what, value, 'mm')),
      ...foulingsOf(element).flatMap(([what, value]) => checkNotNegative(place, what, value, 'mm')),
      ...limitsOf(element).flatMap(([what, value]) => checkPositive(place, what, value, 'km/h')),
      ...overlapsOf(element).flatMap(([what, value]) => checkNotNegative(place, what, value, 'mm')),
      ...(element.kind === 'block' ? checkBlock(element, index, place, graph) : []),
    ];
  }),
  ...file.buses.flatMap((bus, index) =>
    checkPositive(
      placeOf('buses', index, bus.id),
      'the time in which silence is noticed',
      bus.silence.noticedWithin,
      'ms',
    ),
  ),
  ...file.detectorTypes.flatMap((detector, index) => {
    const place = placeOf('detectorTypes', index, detector.id);
    return [
      ...checkNotNegative(place, 'the hold-off', detector.holdOff, 'ms'),
      ...Object.entries(detector.worstDelay).flatMap(([what, value]) =>
        checkNotNegative(place, `the worst delay of "${what}"`, value, 'ms'),
      ),
      ...(detector.reportsIdentity && detector.readsAtOnce < 1
        ? [
            fault(
              place,
              `it reports identity but reads ${detector.readsAtOnce} decoders at once`,
              'enter how many decoders it can tell apart, at least 1, or let it report no identity',
            ),
          ]
        : []),
    ];
  }),
  ...checkDrives(file),
];

type Measure = readonly [what: string, value: number];

const overlapsOf = (element: ElementFile): readonly Measure[] =>
  element.kind === 'block'
    ? Object.entries(element.overlap ?? {}).map(([end, length]) => [
        `the overlap beyond its end ${end}`,
        length,
      ])
    : [];

function measuresOf(element: ElementFile): readonly Measure[] {
  switch (element.kind) {
    case 'block':
      return element.detection.map(({ length }, part) => [
        `the length of detection[${part}]`,
        length,
      ]);
    case 'turnout':
    case 'three-way':
      return Object.entries(element.lengths).map(([leg, length]) => [
        `the length of its ${leg} leg`,
        length,
      ]);
    case 'crossing':
    case 'single-slip':
    case 'double-slip':
      return [['its length', element.length]];
    case 'buffer-stop':
      return [];
  }
}

function foulingsOf(element: ElementFile): readonly Measure[] {
  switch (element.kind) {
    case 'turnout':
    case 'three-way':
      return Object.entries(element.fouling).map(([leg, reach]) => [
        `the fouling of its ${leg} leg`,
        reach,
      ]);
    case 'crossing':
    case 'single-slip':
    case 'double-slip':
      return [['its fouling', element.fouling]];
    case 'block':
    case 'buffer-stop':
      return [];
  }
}

function limitsOf(element: ElementFile): readonly Measure[] {
  const limits: [string, number | undefined][] = [];
  if (element.kind === 'block') limits.push(['its speed limit', element.speedLimit]);
  if ('divergingLimit' in element) limits.push(['its diverging limit', element.divergingLimit]);
  if ('slipLimit' in element) limits.push(['its slip limit', element.slipLimit]);
  return limits.flatMap(([what, value]): Measure[] => (value === undefined ? [] : [[what, value]]));
}

function checkBlock(block: BlockFile, index: number, place: string, graph: TrackGraph): Fault[] {
  if (block.detection.length === 0) {
    return [
      fault(
        place,
        'the block has no length',
        'list its detected lengths from a to b; use section null for track no detector sees',
      ),
    ];
  }
  const length = blockLength(block);
  return (['a', 'b'] as const).flatMap((end) => {
    const mark = block.stopMarks?.[end];
    if (mark === undefined) return [];
    const where = `${place} stop mark ${end}`;
    const fouling = foulingAhead(index, end, graph);
    if (mark < 0 || mark >= length) {
      return [
        fault(
          where,
          `the mark lies ${mark} mm from end ${end}, but the block is ${length} mm long`,
          'enter the distance from the end ahead, less than the length of the block',
        ),
      ];
    }
    return mark < fouling
      ? [
          fault(
            where,
            `a train stopped ${mark} mm from end ${end} stands foul: the fouling point lies at ${fouling} mm`,
            `move the mark to ${fouling} mm or more`,
          ),
        ]
      : [];
  });
}

/** Throw times, and addresses that two drives share: one command would move both. */
function checkDrives(file: LayoutFile): Fault[] {
  const drives: { place: string; drive: Drive }[] = [
    ...file.elements.flatMap((element, index) =>
      'drive' in element ? [{ place: elementPlace(file, index), drive: element.drive }] : [],
    ),
    ...file.reversingSections.map(({ id, drive }, index) => ({
      place: placeOf('reversingSections', index, id),
      drive,
    })),
  ];
  return [
    ...drives.flatMap(({ place, drive }) => [
      ...checkPositive(place, 'the throw time', drive.throwTime, 'ms'),
      ...checkPositive(place, "the drive's address", drive.address, ''),
    ]),
    ...checkTwice(
      drives,
      ({ drive }) => String(drive.address),
      ({ place }) => place,
      'drive address',
      'give each drive an address of its own',
    ),
  ];
}
