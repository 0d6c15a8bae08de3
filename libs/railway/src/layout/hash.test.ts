import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalJson, contentHash, fnv1a64 } from './hash.js';

const bytesOf = (text: string): number[] => [...text].map((it) => it.charCodeAt(0));

describe('fnv1a64', () => {
  // Source: test vectors of the FNV hash's authors for 64-bit FNV-1a, also in draft-eastlake-fnv; from memory.
  it.each([
    ['', 'cbf29ce484222325'],
    ['a', 'af63dc4c8601ec8c'],
    ['foobar', '85944171f73967e8'],
  ])('hashes %j as published', (text, hash) => {
    expect(fnv1a64(bytesOf(text))).toBe(hash);
  });

  it('equals the definition with whole 64-bit numbers', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 60 }), (bytes) => {
        let hash = 0xcbf29ce484222325n;
        for (const byte of bytes) hash = BigInt.asUintN(64, (hash ^ BigInt(byte)) * 0x100000001b3n);
        expect(fnv1a64(bytes)).toBe(hash.toString(16).padStart(16, '0'));
      }),
    );
  });
});

describe('contentHash', () => {
  it('does not depend on the order of keys, but on that of lists', () => {
    expect(contentHash({ a: 1, b: [1, 2] })).toBe(contentHash({ b: [1, 2], a: 1 }));
    expect(contentHash([1, 2])).not.toBe(contentHash([2, 1]));
  });

  it('hashes texts by their UTF-8 bytes', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (text) => {
        expect(contentHash(text)).toBe(fnv1a64(new TextEncoder().encode(JSON.stringify(text))));
      }),
    );
  });

  it('survives being written and read as JSON', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        expect(contentHash(JSON.parse(JSON.stringify(value)))).toBe(contentHash(value));
        expect(JSON.parse(canonicalJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
      }),
    );
  });

  it('leaves out fields that are undefined', () => {
    expect(canonicalJson({ a: undefined, b: null })).toBe('{"b":null}');
  });
});
