import { checkFiles } from '@blockbell/contract';
import { describe, expect, it } from 'vitest';
import { buildExamples } from './all-examples.js';
import { readableJson } from './example-files.js';
import { exampleFiles } from './index.js';

const examples = buildExamples();

describe.each(['demo', 'passing-loop'] as const)('the %s', (name) => {
  const { layout, stock, timetable } = examples[name];

  it('lies on the disk as it is built', () => {
    const files = exampleFiles(name);
    expect(files.layout).toBe(readableJson(layout));
    expect(files.stock).toBe(readableJson(stock));
    expect(files.timetable).toBe(readableJson(timetable));
  });

  it('has no fault as its texts are read', () => {
    const texts = Object.entries(exampleFiles(name)).map(([file, text]) => ({ name: file, text }));
    const checked = checkFiles(texts);
    expect(checked.faults).toEqual([]);
    expect(checked.timetable?.services).toHaveLength(timetable.services.length);
  });

  it('takes every train from service to service where the last one ended', () => {
    const services = new Map(timetable.services.map((service) => [service.id, service]));
    for (const { services: ids } of timetable.workings) {
      const calls = ids.map((id) => services.get(id)?.calls ?? []);
      for (const [index, next] of calls.slice(1).entries()) {
        const last = calls[index]?.at(-1);
        expect(next[0]?.station).toBe(last?.station);
        expect((next[0]?.depart ?? '') > (last?.arrive ?? '99')).toBe(true);
      }
    }
  });
});

describe('the passing loop', () => {
  it('is tiny', () => {
    const { layout, stock, timetable } = examples['passing-loop'];
    expect(layout.elements.filter(({ kind }) => kind === 'block')).toHaveLength(8);
    expect(stock.trains).toHaveLength(2);
    expect(timetable.services).toHaveLength(6);
  });
});
