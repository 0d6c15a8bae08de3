// Makes pictures of a screen small: few colours make up nearly all of it, so a palette of 256 is enough.
import { crc32, deflateSync, inflateSync } from 'node:zlib';

const SIGNATURE = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
const RGB = 2;
const INDEXED = 3;
const COLOURS = 256;

/**
 * The same picture with a palette; colours beyond 256 become the nearest of the most frequent. Chunks and filters as in
 * the PNG specification (W3C), third edition, §5, §9 and §11.
 * @param {Buffer} png eight bits each of red, green and blue, not interlaced, as Chromium writes it
 */
export function packPng(png) {
  const chunks = chunksOf(png);
  const header = Buffer.from(chunks.find(({ type }) => type === 'IHDR').data);
  if (header[8] !== 8 || header[9] !== RGB || header[12] !== 0)
    throw new Error('only pictures with eight bits each of red, green and blue can be packed');
  const width = header.readUInt32BE(0);
  const data = chunks.filter(({ type }) => type === 'IDAT').map((chunk) => chunk.data);
  const rows = unfiltered(inflateSync(Buffer.concat(data)), width * 3);
  const { palette, indexOf } = paletteOf(rows);
  const lines = rows.map((row) => {
    const line = Buffer.alloc(width + 1);
    for (let x = 0; x < width; x++) line[x + 1] = indexOf.get(row.readUIntBE(x * 3, 3));
    return line;
  });
  header[9] = INDEXED;
  return Buffer.concat([
    SIGNATURE,
    chunk('IHDR', header),
    chunk('PLTE', Buffer.concat(palette.map(bytesOf))),
    chunk('IDAT', deflateSync(Buffer.concat(lines), { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

function chunksOf(png) {
  const chunks = [];
  for (let at = SIGNATURE.length; at < png.length;) {
    const length = png.readUInt32BE(at);
    const type = png.toString('latin1', at + 4, at + 8);
    chunks.push({ type, data: png.subarray(at + 8, at + 8 + length) });
    at += length + 12;
  }
  return chunks;
}

function chunk(type, data) {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const around = Buffer.alloc(8);
  around.writeUInt32BE(data.length, 0);
  around.writeUInt32BE(crc32(body), 4);
  return Buffer.concat([around.subarray(0, 4), body, around.subarray(4)]);
}

/** Rows of bytes, three to a pixel; in the file each is told as its difference from its neighbours. */
function unfiltered(raw, stride) {
  const rows = [];
  let above = Buffer.alloc(stride);
  for (let at = 0; at < raw.length; at += stride + 1) {
    const filter = raw[at];
    const row = Buffer.from(raw.subarray(at + 1, at + 1 + stride));
    for (let i = 0; i < stride; i++) {
      const left = i < 3 ? 0 : row[i - 3];
      const corner = i < 3 ? 0 : above[i - 3];
      row[i] += predicted(filter, left, above[i], corner);
    }
    rows.push(row);
    above = row;
  }
  return rows;
}

function predicted(filter, left, above, corner) {
  if (filter === 0) return 0;
  if (filter === 1) return left;
  if (filter === 2) return above;
  return filter === 3 ? (left + above) >> 1 : paeth(left, above, corner);
}

function paeth(left, above, corner) {
  const guess = left + above - corner;
  const toLeft = Math.abs(guess - left);
  const toAbove = Math.abs(guess - above);
  const toCorner = Math.abs(guess - corner);
  if (toLeft <= toAbove && toLeft <= toCorner) return left;
  return toAbove <= toCorner ? above : corner;
}

/** The most frequent colours, and for every colour the place of the nearest among them. */
function paletteOf(rows) {
  const counts = new Map();
  for (const row of rows)
    for (let i = 0; i < row.length; i += 3) {
      const colour = row.readUIntBE(i, 3);
      counts.set(colour, (counts.get(colour) ?? 0) + 1);
    }
  const palette = [...counts.keys()]
    .sort((p, q) => counts.get(q) - counts.get(p) || p - q)
    .slice(0, COLOURS);
  const parts = palette.map(bytesOf);
  const indexOf = new Map([...counts.keys()].map((colour) => [colour, nearest(parts, colour)]));
  return { palette, indexOf };
}

function nearest(palette, colour) {
  const [red, green, blue] = bytesOf(colour);
  let best = 0;
  let least = Infinity;
  palette.forEach(([r, g, b], index) => {
    const distance = (r - red) ** 2 + (g - green) ** 2 + (b - blue) ** 2;
    if (distance < least) [best, least] = [index, distance];
  });
  return best;
}

const bytesOf = (colour) => Buffer.from([colour >> 16, (colour >> 8) & 0xff, colour & 0xff]);
