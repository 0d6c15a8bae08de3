import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createQueue, peek, pop, push } from './event-queue.js';

describe('the event queue', () => {
  it('gives items back by time, first in first out among equals, whatever is pushed between', () => {
    const steps = fc.array(fc.oneof(fc.nat(20), fc.constant('pop' as const)), { maxLength: 300 });
    fc.assert(
      fc.property(steps, (script) => {
        const queue = createQueue<{ at: number; name: number }>();
        let waiting: { at: number; name: number }[] = [];
        script.forEach((step, name) => {
          if (step === 'pop') {
            const expected = waiting[0] ?? null;
            expect(peek(queue)).toEqual(expected);
            expect(pop(queue)).toEqual(expected);
            waiting = waiting.slice(1);
          } else {
            push(queue, { at: step, name });
            waiting.push({ at: step, name });
            waiting.sort((left, right) => left.at - right.at || left.name - right.name);
          }
        });
      }),
    );
  });
});
