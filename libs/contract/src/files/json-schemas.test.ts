import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { jsonSchemas } from './json-schemas.js';

const docs = new URL('../../../../docs/schemas/', import.meta.url);

describe('the JSON Schemas in the docs', () => {
  it.each(jsonSchemas().map((it) => [it.fileName, it.text] as const))(
    '%s is the one generated (else run the contract’s script "schemas")',
    (fileName, text) => {
      expect(JSON.parse(readFileSync(new URL(fileName, docs), 'utf8'))).toEqual(JSON.parse(text));
    },
  );

  it('refuse unknown fields and demand the others', () => {
    const layout = JSON.parse(jsonSchemas()[0]?.text ?? '{}');
    expect(layout).toMatchObject({
      $schema: 'https://json-schema.org/draft/2020-12/schema',
      additionalProperties: false,
      properties: { version: { const: 1 }, scaleRatio: { exclusiveMinimum: 0 } },
    });
    expect(layout.required).toContain('reversingSections');
  });
});
