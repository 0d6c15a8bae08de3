import { readFileSync } from 'node:fs';
import { checkFiles, readStagingRules } from '@blockbell/contract';
import { compileLayout, compileStock } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { buildExamples } from './all-examples.js';
import { readableJson } from './example-files.js';
import { EXAMPLE_FOLDERS, fileUrl } from './example-folders.js';
import { exampleFiles } from './index.js';
import { exampleRules } from './rules.js';

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

describe('the staging rules of the demo', () => {
  const { layout, stock } = examples.demo;
  const text = readableJson(exampleRules(layout.id));

  it('lie on the disk as they are built', () => {
    expect(readFileSync(fileUrl(EXAMPLE_FOLDERS.demo, 'staging-rules'), 'utf8')).toBe(text);
  });

  it('can be followed on the demo, and are offered for no other layout', () => {
    expect(readStagingRules(text, compileLayout(layout), compileStock(stock))).toEqual({
      ok: true,
      file: exampleRules(layout.id),
    });
    expect(exampleRules(examples['passing-loop'].layout.id)).toBeNull();
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
