/** Something due at a moment. `at` is physical time in ms, with a fraction where nature sets it. */
interface Timed {
  readonly at: number;
}

interface Entry<T> {
  readonly item: T;
  /** Order of arrival: decides between items due at the same moment. */
  readonly order: number;
}

/** Items by due time, first in first out among equals; a binary heap in plain data. */
export interface EventQueue<T extends Timed> {
  readonly heap: Entry<T>[];
  pushed: number;
}

export const createQueue = <T extends Timed>(): EventQueue<T> => ({ heap: [], pushed: 0 });

/** The next item due, left in the queue; null when the queue is empty. */
export const peek = <T extends Timed>(queue: EventQueue<T>): T | null =>
  queue.heap[0]?.item ?? null;

export function push<T extends Timed>(queue: EventQueue<T>, item: T): void {
  const { heap } = queue;
  const entry = { item, order: queue.pushed };
  queue.pushed += 1;
  let place = heap.length;
  while (place > 0) {
    const parentPlace = (place - 1) >> 1;
    const parent = heap[parentPlace]!;
    if (!precedes(entry, parent)) break;
    heap[place] = parent;
    place = parentPlace;
  }
  heap[place] = entry;
}

/** Takes the next item due out of the queue; null when the queue is empty. */
export function pop<T extends Timed>(queue: EventQueue<T>): T | null {
  const { heap } = queue;
  const first = heap[0];
  const last = heap.pop();
  if (first === undefined || last === undefined) return null;
  if (heap.length > 0) sink(heap, last);
  return first.item;
}

function sink<T extends Timed>(heap: Entry<T>[], entry: Entry<T>): void {
  let place = 0;
  for (;;) {
    let childPlace = place * 2 + 1;
    if (childPlace >= heap.length) break;
    const right = heap[childPlace + 1];
    if (right !== undefined && precedes(right, heap[childPlace]!)) childPlace += 1;
    const child = heap[childPlace]!;
    if (!precedes(child, entry)) break;
    heap[place] = child;
    place = childPlace;
  }
  heap[place] = entry;
}

const precedes = <T extends Timed>(left: Entry<T>, right: Entry<T>): boolean =>
  left.item.at < right.item.at || (left.item.at === right.item.at && left.order < right.order);
