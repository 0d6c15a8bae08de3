/**
 * A content hash: equal files have equal hashes wherever and in whatever key order they were written. Not a
 * cryptographic one; it tells versions of a file apart, it does not guard them.
 */

/** The low 32 bits of the 64-bit FNV prime 2^40 + 0x1b3; its high part is a shift by 8 into the high half. */
const PRIME_LOW = 0x1b3;
const TWO_32 = 0x1_0000_0000;

/** FNV-1a with 64 bits over bytes, kept as two halves of 32 bits; 16 hexadecimal digits. */
export function fnv1a64(bytes: Iterable<number>): string {
  let high = 0xcbf29ce4;
  let low = 0x84222325;
  for (const byte of bytes) {
    low = (low ^ byte) >>> 0;
    const product = low * PRIME_LOW;
    high = (Math.imul(high, PRIME_LOW) + Math.floor(product / TWO_32) + (low << 8)) >>> 0;
    low = product % TWO_32;
  }
  return hex(high) + hex(low);
}

const hex = (half: number): string => half.toString(16).padStart(8, '0');

/** JSON with sorted keys and without spaces; fields that are undefined are left out. */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  if (typeof value === 'object' && value !== null) {
    const fields = Object.entries(value)
      .filter(([, field]) => field !== undefined)
      .sort(([left], [right]) => (left < right ? -1 : 1))
      .map(([key, field]) => `${JSON.stringify(key)}:${canonicalJson(field)}`);
    return `{${fields.join(',')}}`;
  }
  return JSON.stringify(value) ?? 'null';
}

/** The bytes of a text in UTF-8. */
function* utf8(text: string): Generator<number> {
  for (const character of text) {
    const code = character.codePointAt(0) ?? 0;
    if (code < 0x80) yield code;
    else if (code < 0x800) yield* [0xc0 | (code >> 6), 0x80 | (code & 0x3f)];
    else if (code < 0x10000)
      yield* [0xe0 | (code >> 12), 0x80 | ((code >> 6) & 0x3f), 0x80 | (code & 0x3f)];
    else
      yield* [
        0xf0 | (code >> 18),
        0x80 | ((code >> 12) & 0x3f),
        0x80 | ((code >> 6) & 0x3f),
        0x80 | (code & 0x3f),
      ];
  }
}

/** Hash of a JSON value: FNV-1a 64 over its canonical JSON in UTF-8; 16 hexadecimal digits. */
export const contentHash = (value: unknown): string => fnv1a64(utf8(canonicalJson(value)));
