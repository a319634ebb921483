// A PNG file of a picture in two colours (PNG specification, ISO/IEC 15948): one
// bit a pixel, with a palette.
import { deflateSync } from 'node:zlib';
import { crc32 } from './crc.mjs';

const [DARK, LIT] = [
  [10, 14, 20],
  [150, 220, 255],
];

/** `lit(x, y)` says which pixels are lit; each is drawn `scale` wide and high. */
export function png(width, height, lit, scale = 4) {
  const [w, h] = [width * scale, height * scale];
  const row = Math.ceil(w / 8) + 1; // a filter byte first
  const pixels = Buffer.alloc(row * h);
  for (let y = 0; y < h; y++) {
    for (let x = 0; x < w; x++) {
      if (lit(Math.floor(x / scale), Math.floor(y / scale))) {
        pixels[y * row + 1 + (x >> 3)] |= 0x80 >> (x & 7);
      }
    }
  }
  const header = Buffer.alloc(13);
  header.writeUInt32BE(w, 0);
  header.writeUInt32BE(h, 4);
  header.set([1, 3, 0, 0, 0], 8); // one bit, palette
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10]),
    chunk('IHDR', header),
    chunk('PLTE', Buffer.from([...DARK, ...LIT])),
    chunk('IDAT', deflateSync(pixels)),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

function chunk(name, content) {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), content]);
  const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(content.length);
  check.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, check]);
}
